import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { z } from 'zod'
import { rootArgs, runEngine } from './print-pdf.ts'

const seenSchema = z.object({ widthPx: z.number(), contentWidthPx: z.number(), heightPx: z.number() })
/** A page in a window `widthPx` wide: how long it is, and how wide its content; CSS pixels. */
export type PageLength = z.infer<typeof seenSchema>

/** Opens a page in an Electron of its own, without a window to be seen, and measures it. @throws Problem */
export const pageLength = async (
  electron: string,
  htmlFile: string,
  widthPx: number,
): Promise<PageLength> => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'leadside-length-'))
  const outFile = path.join(folder, 'length.json')
  try {
    await runEngine(electron, outFile, undefined, (profile) => [
      ...rootArgs,
      '--disable-gpu',
      `--user-data-dir=${profile}`,
      fileURLToPath(new URL('../../main/measure-alone.mjs', import.meta.url)),
      htmlFile,
      outFile,
      String(widthPx),
    ])
    return seenSchema.parse(JSON.parse(fs.readFileSync(outFile, 'utf8')))
  } finally {
    fs.rmSync(folder, { recursive: true, force: true })
  }
}
