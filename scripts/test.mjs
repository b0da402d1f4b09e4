// `npm test`: sets up, then types, lint, rooms, papers, unit, published values, golden drawings, one browser walk per page.
import fs from 'node:fs';
import path from 'node:path';
import { buildWeb, chromium, cliBundle, install, must, root, run } from './setup.mjs';

install();
const browser = chromium();
if (!browser) {
  console.error(
    'Chromium is needed for the browser walks: install it from your system packages, or set CHROMIUM=/path/to/it, then run npm test again.',
  );
  process.exit(1);
}
buildWeb();
cliBundle();
const bin = (file, ...args) => must(process.execPath, [`node_modules/${file}`, ...args]);
for (const config of ['tsconfig.core.json', 'tsconfig.json', 'tsconfig.web.json', 'tsconfig.sw.json'])
  bin('typescript/bin/tsc', '-p', config);
bin('@biomejs/biome/bin/biome', 'check', '--error-on-warnings');
const report = path.join(root, 'node_modules/.cache/vitest.json');
const folders = process.argv.slice(2);
const code = run(
  process.execPath,
  [
    'node_modules/vitest/vitest.mjs',
    'run',
    '--exclude',
    'test/more/**',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
    ...folders,
  ],
  { env: { ...process.env, CHROMIUM: browser } },
);
const result = JSON.parse(fs.readFileSync(report, 'utf8'));
console.log(
  `${result.numPassedTests} passed, ${result.numFailedTests} failed, ${result.numPendingTests} skipped`,
);
process.exit(code);
