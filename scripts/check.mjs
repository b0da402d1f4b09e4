// `npm run check`: types, lint, rooms and all tests without a browser. For the working loop.
import { buildWeb, install, must } from './setup.mjs';

install();
const bin = (file, ...args) => must(process.execPath, [`node_modules/${file}`, ...args]);
for (const config of ['tsconfig.core.json', 'tsconfig.json', 'tsconfig.web.json', 'tsconfig.sw.json'])
  bin('typescript/bin/tsc', '-p', config);
bin('@biomejs/biome/bin/biome', 'check', '--error-on-warnings');
if (process.argv.includes('--web')) buildWeb();
bin('vitest/vitest.mjs', 'run', '--exclude', 'test/browser/**', '--exclude', 'test/more/**');
