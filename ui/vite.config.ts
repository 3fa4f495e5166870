import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';

const file = (path: string) => fileURLToPath(new URL(path, import.meta.url));

/** Where the wasm is. `probe` is the web app for its own tests, with commands that misbehave on purpose. */
const pkg = (mode: string) => (mode === 'probe' ? 'pkg-probe' : 'pkg');

// `vite build --mode shell` or `--mode web`: the host is chosen here, so that neither ships the other's half
export default defineConfig(({ mode }) => ({
  base: './', // works from any folder of any static host
  build: { target: 'es2022', assetsInlineLimit: 0, outDir: `dist/${mode}`, emptyOutDir: true },
  worker: { format: 'es' },
  resolve: {
    alias: {
      '#host': file(mode === 'shell' ? './src/desk/shell.ts' : './src/desk/web.ts'),
      '#wasm-url': file(`./${pkg(mode)}/worker_bg.wasm`) + '?url',
      '#wasm': file(`./${pkg(mode)}/worker.js`),
    },
    // component tests mount the browser half of Svelte
    ...(mode === 'test' ? { conditions: ['browser'] } : {}),
  },
  plugins: [
    svelte(),
    mode !== 'shell' &&
      VitePWA({
        // the wasm of the tests is not optimised, and too large to be kept: they go without
        disable: mode === 'probe',
        strategies: 'generateSW',
        registerType: 'prompt', // never swap code under a user who is at work
        injectRegister: false, // registered by hand in src/desk/web.ts
        workbox: {
          // every kind of file that the app needs offline: a kind that is not listed is not there offline
          globPatterns: ['**/*.{js,css,html,wasm,woff2,ttf,png,jpg,svg,webmanifest,json}'],
          maximumFileSizeToCacheInBytes: 12 * 1024 * 1024, // default is 2 MiB: the wasm would be left out
          cleanupOutdatedCaches: true,
          clientsClaim: true,
          skipWaiting: false,
          navigateFallback: 'index.html',
        },
        manifest: {
          id: './',
          name: 'Airwright',
          short_name: 'Airwright',
          description: 'Plans a balloon job: what to buy, blow, tie, load and do.',
          lang: 'en-GB',
          start_url: './',
          scope: './',
          display: 'standalone',
          background_color: '#f4f2ec',
          theme_color: '#f4f2ec',
          // the system opens job files with the installed app, in the window that is there
          file_handlers: [{ action: './', accept: { 'application/x-airwright': ['.airwright'] } }],
          launch_handler: { client_mode: 'focus-existing' },
          icons: [
            { src: 'icons/192.png', sizes: '192x192', type: 'image/png' },
            { src: 'icons/512.png', sizes: '512x512', type: 'image/png' },
            { src: 'icons/maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
          ],
        },
      }),
  ],
  test: { environment: 'jsdom', include: ['src/**/*.test.ts'] },
}));
