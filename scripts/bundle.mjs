// Makes dist/cli/main.mjs, the command line in one file, and the thread that sets PDFs beside it, so that a cold start does not read hundreds of modules.
import fs from 'node:fs';
import path from 'node:path';
import { build } from 'esbuild';
import { root } from './setup.mjs';

const manifest = JSON.parse(fs.readFileSync(path.join(root, 'package.json'), 'utf8'));
// Small and used by every command: bundled. The rest is loaded from node_modules when a command needs it.
const bundled = new Set(['yaml', 'commander']);
const external = Object.keys({ ...manifest.dependencies, ...manifest.devDependencies })
  .filter((name) => !bundled.has(name))
  .flatMap((name) => [name, `${name}/*`]);
const out = path.join(root, 'dist/cli');
const beside = `${out}.new`;
fs.rmSync(beside, { recursive: true, force: true });
try {
  await build({
    entryPoints: {
      main: path.join(root, 'src/cli/main.ts'),
      'pdf-worker': path.join(root, 'src/server/prints/pdf-worker.ts'),
    },
    outdir: beside,
    bundle: true,
    splitting: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    outExtension: { '.js': '.mjs' },
    external,
    banner: {
      js: "import { createRequire as bundleRequire } from 'node:module'; const require = bundleRequire(import.meta.url);",
    },
    minifySyntax: true,
    logLevel: 'error',
  });
} catch {
  process.exit(1);
}
fs.rmSync(out, { recursive: true, force: true });
fs.renameSync(beside, out);
