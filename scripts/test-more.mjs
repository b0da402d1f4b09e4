// `npm run test:more`: load, kill, pixels at three widths. Longer than `npm test`.
import { buildWeb, chromium, cliBundle, install, runTests } from './setup.mjs';

install();
buildWeb();
cliBundle();
process.exit(runTests('vitest-more', ['test/more'], chromium()));
