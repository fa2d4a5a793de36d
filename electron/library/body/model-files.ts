import fs from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import { Problem } from '../../../shared-core/problem.ts'

const here = import.meta.dirname

/** Beside the built program, or where the install put them. */
const folders = [path.join(here, '..', 'models'), path.join(here, '..', '..', '..', '.leadside', 'models')]

export const modelName = 'movenet-thunder'

/** The model's two files. @throws Problem `no-model` */
export const modelFiles = (): { graph: string; weights: string } => {
  for (const folder of folders) {
    const graph = path.join(folder, `${modelName}.json`)
    const weights = path.join(folder, `${modelName}.bin`)
    if (fs.existsSync(graph) && fs.existsSync(weights)) return { graph, weights }
  }
  throw new Problem('no-model')
}

/** The folder of the WebAssembly programs that TensorFlow.js runs on. */
export const wasmFolder = (): string =>
  path.join(
    path.dirname(createRequire(import.meta.url).resolve('@tensorflow/tfjs-backend-wasm/package.json')),
    'dist',
  ) + path.sep
