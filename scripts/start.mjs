// `npm start`: installs, builds, serves.
import { spawn } from 'node:child_process';
import path from 'node:path';
import { buildWeb, cliBundle, install, root } from './setup.mjs';

install();
buildWeb();
cliBundle();
const child = spawn(process.execPath, [path.join(root, 'bracewright'), 'start', ...process.argv.slice(2)], {
  stdio: 'inherit',
});
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => child.kill(signal));
child.on('exit', (code, signal) => process.exit(code ?? (signal ? 1 : 0)));
