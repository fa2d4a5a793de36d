import path from 'node:path'
import react from '@vitejs/plugin-react'
import { defineConfig } from 'electron-vite'

const at = (relative: string) => path.resolve(import.meta.dirname, relative)

/** Packages stay outside of main's bundle: native ones can't be bundled, the others need not be. */
const outside = [/^node:/, /^electron$/, /^[a-z@][^:]*$/i]

export default defineConfig({
  main: {
    build: {
      outDir: 'out/main',
      emptyOutDir: true,
      rollupOptions: {
        input: { index: at('electron/main/index.ts'), library: at('electron/library/process.ts') },
        external: outside,
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
      // The window is one known Chromium.
      target: 'chrome130',
      chunkSizeWarningLimit: 3000,
      rollupOptions: { input: { index: at('renderer/index.html') } },
    },
  },
})
