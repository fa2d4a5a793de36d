import fs from 'node:fs'
import { createRequire } from 'node:module'
import { jointCount } from '../../../shared-core/body/joints.ts'
import { modelFiles, wasmFolder } from './model-files.ts'

// The packages' ES modules leave out file names' endings, which Node asks for: their CommonJS builds are loaded.
const requireHere = createRequire(import.meta.url)
const tf = requireHere('@tensorflow/tfjs-core') as typeof import('@tensorflow/tfjs-core')
const converter = requireHere('@tensorflow/tfjs-converter') as typeof import('@tensorflow/tfjs-converter')
const wasm = requireHere('@tensorflow/tfjs-backend-wasm') as typeof import('@tensorflow/tfjs-backend-wasm')

/** Pixels of the model's square picture, each way. */
export const modelSize = 256

/** Finds the joints in a square picture of `modelSize`: RGB bytes in, (x, y, score) for each joint out, all 0 to 1. */
export type PoseModel = (rgb: Uint8Array) => Promise<Float32Array>

/** MoveNet SinglePose Thunder on WebAssembly, one thread: two jobs then keep two processors busy, not four. */
export const loadPoseModel = async (): Promise<PoseModel> => {
  wasm.setWasmPaths(wasmFolder())
  wasm.setThreadsCount(1)
  await tf.setBackend('wasm')
  await tf.ready()
  const { graph, weights } = modelFiles()
  const json = JSON.parse(fs.readFileSync(graph, 'utf8')) as {
    modelTopology: object
    format: string
    signature: object
    weightsManifest: { weights: import('@tensorflow/tfjs-core').io.WeightsManifestEntry[] }[]
  }
  const bytes = fs.readFileSync(weights)
  const model = await converter.loadGraphModel({
    load: () =>
      Promise.resolve({
        modelTopology: json.modelTopology,
        format: json.format,
        signature: json.signature,
        weightSpecs: json.weightsManifest.flatMap((part) => part.weights),
        weightData: bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength),
      }),
  })
  return async (rgb) => {
    const input = tf.tensor(Int32Array.from(rgb), [1, modelSize, modelSize, 3], 'int32')
    const output = model.execute(input) as import('@tensorflow/tfjs-core').Tensor
    const found = await output.data()
    input.dispose()
    output.dispose()
    const points = new Float32Array(jointCount * 3)
    for (let j = 0; j < jointCount; j++) {
      points[j * 3] = found[j * 3 + 1]!
      points[j * 3 + 1] = found[j * 3]!
      points[j * 3 + 2] = found[j * 3 + 2]!
    }
    return points
  }
}
