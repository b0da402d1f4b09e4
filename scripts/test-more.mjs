// `npm run test:more`: load, kill, pixels at three widths. Longer than `npm test`.
import fs from 'node:fs';
import path from 'node:path';
import { buildWeb, chromium, cliBundle, install, root, run } from './setup.mjs';

install();
buildWeb();
cliBundle();
const browser = chromium();
const report = path.join(root, 'node_modules/.cache/vitest-more.json');
const code = run(
  process.execPath,
  [
    'node_modules/vitest/vitest.mjs',
    'run',
    'test/more',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  ],
  { env: { ...process.env, ...(browser ? { CHROMIUM: browser } : {}) } },
);
const result = JSON.parse(fs.readFileSync(report, 'utf8'));
console.log(
  `${result.numPassedTests} passed, ${result.numFailedTests} failed, ${result.numPendingTests} skipped`,
);
process.exit(code);
