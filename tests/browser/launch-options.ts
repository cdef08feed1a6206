/** How every test starts Chromium: without a window, without a graphics card, without calls of its own. */
import type { LaunchOptions } from 'playwright-core';
import { findChromium } from './find-chromium.ts';

export function launchOptions(): LaunchOptions {
  return {
    executablePath: findChromium(),
    args: [
      '--headless',
      // Chromium refuses its sandbox to root, as which many build machines run.
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      '--use-angle=swiftshader',
      '--enable-unsafe-swiftshader',
      '--ignore-gpu-blocklist',
      // Without a card the page is put together twice as cheaply in software; the picture is drawn as before.
      '--disable-gpu-compositing',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
    ],
  };
}
