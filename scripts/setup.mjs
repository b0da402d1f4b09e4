// Node built-ins only: runs before anything is installed.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

export const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '..');

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(
    `Bracewright needs Node 20.19 or newer, and this is ${process.version}; install a newer one from your system's packages.`,
  );
  process.exit(2);
}

/** Runs a program with the project as its folder and gives its exit code. */
export function run(command, args, options = {}) {
  const result = spawnSync(command, args, { stdio: 'inherit', cwd: root, ...options });
  if (result.error) {
    console.error(`${command} could not be started: ${result.error.message}`);
    return 1;
  }
  return result.status ?? 1;
}

/** The same, and ends this program when it fails. */
export function must(command, args, options) {
  const code = run(command, args, options);
  if (code !== 0) {
    console.error(`failed (${code}): ${command} ${args.join(' ')}`);
    process.exit(code);
  }
}

/** Types of every room and the lint; ends this program when something is wrong. */
export function checkTypesAndLint() {
  const bin = (file, ...args) => must(process.execPath, [`node_modules/${file}`, ...args]);
  for (const config of ['tsconfig.core.json', 'tsconfig.json', 'tsconfig.web.json', 'tsconfig.sw.json'])
    bin('typescript/bin/tsc', '-p', config);
  bin('@biomejs/biome/bin/biome', 'check', '--error-on-warnings');
}

/** Runs tests, prints their count and gives the exit code. `name` is that of the report. */
export function runTests(name, args, browser) {
  const report = path.join(root, `node_modules/.cache/${name}.json`);
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const code = run(process.execPath, ['node_modules/vitest/vitest.mjs', 'run', ...reporters, ...args], {
    env: { ...process.env, ...(browser ? { CHROMIUM: browser } : {}) },
  });
  const result = JSON.parse(fs.readFileSync(report, 'utf8'));
  console.log(
    `${result.numPassedTests} passed, ${result.numFailedTests} failed, ${result.numPendingTests} skipped`,
  );
  return code;
}

const hashOf = (...files) => {
  const hash = createHash('sha256').update(process.version);
  for (const file of files) hash.update(fs.readFileSync(path.join(root, file)));
  return hash.digest('hex');
};

/** Installs the packages of the lock file when they are not there or it has changed. */
export function install({ quiet = false } = {}) {
  const stamp = path.join(root, 'node_modules/.install-stamp');
  const wanted = hashOf('package-lock.json', 'package.json');
  if (fs.existsSync(stamp) && fs.readFileSync(stamp, 'utf8') === wanted) return;
  console.error('Installing packages (first use, or the list has changed) ...');
  const env = { ...process.env };
  delete env.NODE_ENV;
  must('npm', ['ci', '--include=dev', '--no-audit', '--no-fund'], {
    env,
    stdio: quiet ? ['ignore', 2, 2] : 'inherit',
  });
  fs.writeFileSync(stamp, wanted);
}

/** Newest change among files and folders of the project, ms. */
function newest(...places) {
  let latest = 0;
  for (const place of places) {
    const full = path.join(root, place);
    if (!fs.existsSync(full)) continue;
    const stat = fs.statSync(full);
    if (!stat.isDirectory()) latest = Math.max(latest, stat.mtimeMs);
    else
      for (const entry of fs.readdirSync(full, { withFileTypes: true, recursive: true })) {
        if (!entry.isFile() || entry.name.endsWith('.test.ts')) continue;
        latest = Math.max(latest, fs.statSync(path.join(entry.parentPath ?? entry.path, entry.name)).mtimeMs);
      }
  }
  return latest;
}

const isFresh = (made, ...sources) => {
  const full = path.join(root, made);
  return fs.existsSync(full) && fs.statSync(full).mtimeMs >= newest(...sources);
};

/** Builds the page when a source is newer. */
export function buildWeb() {
  if (isFresh('dist/web/index.html', 'src', 'data', 'package-lock.json', 'vite.config.ts')) return;
  console.error('Building the page ...');
  must(process.execPath, ['node_modules/vite/bin/vite.js', 'build', '--logLevel', 'warn']);
  const now = new Date();
  fs.utimesSync(path.join(root, 'dist/web/index.html'), now, now);
}

/** The command line as one bundle, remade when a source is newer; gives its address for import. */
export function cliBundle() {
  const made = 'dist/cli/main.mjs';
  if (!isFresh(made, 'src', 'data', 'package-lock.json')) must(process.execPath, ['scripts/bundle.mjs']);
  return pathToFileURL(path.join(root, made)).href;
}

/** A Chromium to test with; on Debian as root it is installed when missing. null when there is none. */
export function chromium() {
  const found = [
    process.env.CHROMIUM,
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
  ].find((p) => p && fs.existsSync(p));
  if (found) {
    debianTools();
    return found;
  }
  if (!canInstall()) return null;
  aptInstall('chromium', 'poppler-utils', 'fonts-dejavu-core', 'python3-ezdxf', 'libnss3-tools');
  return '/usr/bin/chromium';
}

const canInstall = () =>
  process.platform === 'linux' && process.getuid?.() === 0 && fs.existsSync('/usr/bin/apt-get');

/** poppler (PDF to picture), a second DXF reader and the browser's list of authorities for the tests, where they can be installed. */
function debianTools() {
  const isThere = ['pdftoppm', 'certutil'].every((tool) => fs.existsSync(`/usr/bin/${tool}`));
  if (isThere || !canInstall()) return;
  aptInstall('poppler-utils', 'python3-ezdxf', 'libnss3-tools');
}

function aptInstall(...packages) {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const options = ['-o', 'DPkg::Lock::Timeout=300', '-q'];
  must('apt-get', [...options, 'update'], { env });
  must('apt-get', [...options, 'install', '-y', '--no-install-recommends', ...packages], { env });
}
