/** How every test starts Chromium: without a window, without a graphics card, without calls of its own. */
import type { LaunchOptions } from 'playwright-core';
import { findChromium } from './find-chromium.ts';

/**
 * What Chromium keeps ready beside a page and no test looks at: every window would load the lists under its address bar,
 * a second of processor time. The last such option counts, so what Playwright turns off stands here again.
 */
const NOT_WANTED = [
  'WebUIOmniboxPopup',
  'WebUIOmniboxAimPopup',
  'WebUIOmniboxFullPopup',
  'AimEnabled',
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsFirstBalancedModeAutoEnable',
  'HttpsUpgrades',
  'LensOverlay',
  'MediaRouter',
  'NetworkTimeServiceQuerying',
  'OptimizationHints',
  'PaintHolding',
  'PreconnectToSearch',
  'ThirdPartyStoragePartitioning',
];

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
      `--disable-features=${NOT_WANTED}`,
      '--disable-extensions',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--no-first-run',
    ],
  };
}
