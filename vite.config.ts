import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin, transformWithOxc } from 'vite';

const webRoot = path.resolve(import.meta.dirname, 'src/web');
const publicRoot = path.join(webRoot, 'public');
const workerSource = path.join(webRoot, 'sw.ts');

/** Emits /sw.js from src/web/sw.ts with the list of built files and a hash of their content in it. */
function serviceWorker(): Plugin {
  return {
    name: 'service-worker',
    apply: 'build',
    enforce: 'post',
    async generateBundle(_options, bundle) {
      const shared = fs.existsSync(publicRoot) ? fs.readdirSync(publicRoot) : [];
      const files = [...Object.keys(bundle), ...shared].map((name) => `/${name}`).sort();
      const hash = createHash('sha256');
      for (const [name, item] of Object.entries(bundle).sort(([a], [b]) => a.localeCompare(b)))
        hash.update(name).update(item.type === 'chunk' ? item.code : item.source);
      for (const name of shared) hash.update(fs.readFileSync(path.join(publicRoot, name)));
      const { code } = await transformWithOxc(fs.readFileSync(workerSource, 'utf8'), 'sw.ts');
      const source = code
        .replace('__FILES__', JSON.stringify(files))
        .replace('__VERSION__', JSON.stringify(hash.digest('hex').slice(0, 12)));
      this.emitFile({ type: 'asset', fileName: 'sw.js', source });
    },
  };
}

/** Emits /early.js from src/web/early.ts and puts it before everything else in the page. */
function earlyQuestions(): Plugin {
  return {
    name: 'early-questions',
    apply: 'build',
    transformIndexHtml: () => [
      { tag: 'script', attrs: { src: '/early.js', async: true }, injectTo: 'head-prepend' as const },
    ],
    async generateBundle() {
      const { code } = await transformWithOxc(
        fs.readFileSync(path.join(webRoot, 'early.ts'), 'utf8'),
        'early.ts',
      );
      this.emitFile({ type: 'asset', fileName: 'early.js', source: code });
    },
  };
}

/** The letters of the first page are asked for with it, not when a style names them. */
function lettersFirst(): Plugin {
  return {
    name: 'letters-first',
    apply: 'build',
    transformIndexHtml: {
      order: 'post',
      handler: (_html, { bundle }) =>
        Object.keys(bundle ?? {})
          .filter((name) => /(?:sans-latin-wdth|park-latin-wght)-normal.*\.woff2$/.test(name))
          .map((name) => ({
            tag: 'link',
            attrs: { rel: 'preload', as: 'font', type: 'font/woff2', crossorigin: true, href: `/${name}` },
            injectTo: 'head' as const,
          })),
    },
  };
}

export default defineConfig({
  root: webRoot,
  plugins: [react(), earlyQuestions(), lettersFirst(), serviceWorker()],
  build: {
    outDir: path.resolve(import.meta.dirname, 'dist/web'),
    emptyOutDir: true,
    target: 'es2022',
    // the content security policy allows no inline script and no data: fonts
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: { proxy: { '/api': 'http://127.0.0.1:3000' }, fs: { allow: [import.meta.dirname] } },
});
