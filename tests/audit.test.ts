/** `.ci/audit` against a registry of our own: a known hole fails, one that does not answer is told and passes. */
import { execFile } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';

const cache = mkdtempSync(join(tmpdir(), 'lieflat-audit-'));
afterAll(() => rmSync(cache, { recursive: true, force: true }));

const hole = (severity: string) => ({
  three: [
    {
      id: 1,
      url: 'https://registry.invalid/1',
      title: 'made up',
      severity,
      vulnerable_versions: '*',
      cwe: [],
      cvss: { score: 0, vectorString: null },
    },
  ],
});

/** Exit code and words of an audit that gets this answer from its registry. */
async function audit(status: number, answer: unknown): Promise<{ code: number; told: string }> {
  const server = createServer(({ url }, response) => {
    // Of the package itself nothing is known.
    const asked = url?.endsWith('/advisories/bulk') ? [status, answer] : [404, {}];
    response.writeHead(Number(asked[0]), { 'content-type': 'application/json' });
    response.end(JSON.stringify(asked[1]));
  });
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const { port } = server.address() as AddressInfo;
  const env = {
    ...process.env,
    npm_config_registry: `http://127.0.0.1:${port}/`,
    npm_config_cache: cache,
  };
  try {
    return await new Promise((done) => {
      execFile('.ci/audit', { env }, (error, told) =>
        done({ code: Number(error?.code ?? 0), told }),
      );
    });
  } finally {
    server.close();
  }
}

it('fails on a serious hole in what is shipped', async () => {
  const { code, told } = await audit(200, hole('high'));
  expect(told).toMatch(
    /^audit: \d known holes in what is shipped, [1-9] of them high or critical\n$/,
  );
  expect(code).toBe(1);
});

it('says that the registry does not answer such questions, and passes', async () => {
  const { code, told } = await audit(405, {});
  expect(told).toMatch(/^audit: the registry did not answer \(405 .*\); not audited\n$/);
  expect(code).toBe(0);
});
