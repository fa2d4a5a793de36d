import path from 'node:path'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'electron-vite'
import { notBundled } from './scripts/not-bundled.mjs'

const at = (relative: string) => path.resolve(import.meta.dirname, relative)

export default defineConfig({
  main: {
    build: {
      externalizeDeps: false,
      outDir: 'out/main',
      emptyOutDir: true,
      rollupOptions: {
        input: {
          index: at('electron/main/index.ts'),
          library: at('electron/library/start.ts'),
          'report-worker': at('electron/library/report-worker.ts'),
          'body-worker': at('electron/library/body/body-worker.ts'),
          'follow-worker': at('electron/library/following/follow-worker.ts'),
        },
        external: notBundled,
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
      },
    },
  },
  preload: {
    build: {
      outDir: 'out/preload',
      emptyOutDir: true,
      rollupOptions: {
        input: { index: at('electron/preload/index.ts') },
        // A sandboxed preload is CommonJS and may only require electron.
        external: ['electron'],
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
  renderer: {
    root: at('renderer'),
    plugins: [react()],
    build: {
      outDir: at('out/renderer'),
      emptyOutDir: true,
      // Less to read and compile before the window can be used.
      minify: true,
      // The window is one known Chromium.
      target: 'chrome130',
      chunkSizeWarningLimit: 3000,
      rollupOptions: { input: { index: at('renderer/index.html') } },
    },
  },
})
