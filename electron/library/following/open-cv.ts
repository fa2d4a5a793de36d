import { createRequire } from 'node:module'

// The package is one CommonJS file of ten megabytes with its WebAssembly in it: loaded only where a point is followed.
const requireHere = createRequire(import.meta.url)

/** The part of OpenCV that is used; the package's own types ask for DOM types. */
export interface Mat {
  readonly data: Uint8Array
  readonly data32F: Float32Array
  readonly cols: number
  readonly rows: number
  delete(): void
}
export interface OpenCv {
  readonly Mat: new (rows?: number, cols?: number, type?: number) => Mat
  readonly Size: new (width: number, height: number) => object
  readonly TermCriteria: new (type: number, count: number, epsilon: number) => object
  readonly CV_8UC1: number
  readonly CV_32FC2: number
  readonly TM_CCOEFF_NORMED: number
  matchTemplate(image: Mat, template: Mat, result: Mat, method: number): void
  calcOpticalFlowPyrLK(
    before: Mat,
    after: Mat,
    pointsBefore: Mat,
    pointsAfter: Mat,
    status: Mat,
    errors: Mat,
    window: object,
    levels: number,
    criteria: object,
  ): void
}

let loaded: Promise<{ readonly cv: OpenCv }> | undefined

/** OpenCV on WebAssembly; about a second the first time. It has a `then` of its own, so no promise may hold it bare. */
export const openCv = (): Promise<{ readonly cv: OpenCv }> => (loaded ??= load())

const load = async (): Promise<{ readonly cv: OpenCv }> => {
  const cv = requireHere('@techstark/opencv-js') as OpenCv & { onRuntimeInitialized?: () => void }
  if (!cv.Mat) await new Promise<void>((ready) => (cv.onRuntimeInitialized = ready))
  return { cv }
}
