// `npm run bench [-- name ...]`: every bench/*.ts, or the named ones, one after another.
import fs from 'node:fs';
import path from 'node:path';
import { buildWeb, cliBundle, install, root, run } from './setup.mjs';

install();
const wanted = process.argv.slice(2);
const all = fs
  .readdirSync(path.join(root, 'bench'))
  .filter((f) => f.endsWith('.ts') && !f.startsWith('_'))
  .map((f) => f.slice(0, -3));
const names = wanted.length > 0 ? wanted : all;
const unknown = names.find((n) => !all.includes(n));
if (unknown) {
  console.error(`There is no benchmark "${unknown}"; there are ${all.join(', ')}.`);
  process.exit(2);
}
if (['pattern', 'load', 'opening'].some((n) => names.includes(n))) {
  buildWeb();
  cliBundle();
}
let worst = 0;
for (const name of names) {
  console.log(`\n== ${name} ==`);
  const start = `import('./bench/${name}.ts').then((m) => m.run()).catch((e) => { console.error(e); process.exit(1); })`;
  worst = Math.max(worst, run(process.execPath, ['--import', 'tsx', '--eval', start]));
}
process.exit(worst);
