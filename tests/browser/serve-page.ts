/** Serves a built page as `npm run preview` does. In: its folder. Out: its address, and the way to end it. */
import { preview } from 'vite';

/** Where the page that all browser tests share is built. */
export const OUT_DIR = 'tests/browser/out';

export async function servePage(
  outDir: string,
): Promise<{ readonly origin: string; close(): Promise<void> }> {
  const server = await preview({
    logLevel: 'error',
    build: { outDir },
    preview: { port: 0, host: '127.0.0.1' },
  });
  const address = server.httpServer.address();
  if (!address || typeof address === 'string') throw new Error('the preview server has no port');
  return { origin: `http://127.0.0.1:${address.port}`, close: () => server.close() };
}
