// `npm run check`: types, lint, rooms and all tests without a browser. For the working loop.
import { buildWeb, checkTypesAndLint, install, must } from './setup.mjs';

install();
checkTypesAndLint();
if (process.argv.includes('--web')) buildWeb();
must(process.execPath, [
  'node_modules/vitest/vitest.mjs',
  'run',
  '--exclude',
  'test/browser/**',
  '--exclude',
  'test/more/**',
]);
