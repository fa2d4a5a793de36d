import fs from 'node:fs'
import path from 'node:path'
import { build } from 'vite'
import { notBundled } from '../../../scripts/not-bundled.mjs'

const root = path.resolve(import.meta.dirname, '../../..')

/**
 * Makes one file of a test's program and the library, as the window's build does: it starts in a fifth of the time that hundreds
 * of small files take. Gives the folder; `remove` takes it away.
 */
export const bundled = async (inputs: Record<string, string>) => {
  // Beside out/main, from which the library finds what lies in the repository; one for each run.
  const folder = path.join(root, 'out', `for-tests-${process.pid}`)
  await build({
    configFile: false,
    root,
    logLevel: 'error',
    ssr: { noExternal: true },
    build: {
      ssr: true,
      outDir: folder,
      target: 'node24',
      rollupOptions: {
        input: Object.fromEntries(
          Object.entries(inputs).map(([name, file]) => [name, path.join(root, file)]),
        ),
        external: notBundled,
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
      },
    },
  })
  return { folder, remove: () => fs.rmSync(folder, { recursive: true, force: true }) }
}
