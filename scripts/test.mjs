// `npm test`: sets up, then types, lint, rooms, papers, unit, published values, golden drawings, one browser walk per page.
import { buildWeb, checkTypesAndLint, chromium, cliBundle, install, runTests } from './setup.mjs';

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
checkTypesAndLint();
process.exit(runTests('vitest', ['--exclude', 'test/more/**', ...process.argv.slice(2)], browser));
