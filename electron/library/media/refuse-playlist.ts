import { open } from 'node:fs/promises'
import { Problem } from '../../../shared-core/problem.ts'

const lookedAtBytes = 4096
/** How lists of other media begin: HLS, DASH, ffmpeg's concat, PLS, ASX, SMIL, SDP and their like. */
const lists =
  /#EXTM3U|<MPD|<SmoothStreamingMedia|ffconcat\s+version|\[playlist\]|\[Reference\]|<asx|<smil|<playlist|^v=0\r?\no=/im

/** Films are not text: some byte among the first is none that text has. */
const isText = (head: Buffer): boolean =>
  head.length > 0 && head.every((byte) => byte >= 0x20 || [0x09, 0x0a, 0x0c, 0x0d].includes(byte))

/**
 * Refuses a list of other media, whatever its name, before any program opens it: it would point elsewhere.
 * @throws Problem with this `code`
 */
export const refusePlaylist = async (
  file: string,
  clipName: string,
  code: 'not-a-clip' | 'clip-unreadable' = 'not-a-clip',
): Promise<void> => {
  const handle = await open(file).catch(() => null)
  // What can't be opened is told by whoever needs it.
  if (!handle) return
  try {
    const { bytesRead, buffer } = await handle.read(Buffer.alloc(lookedAtBytes), 0, lookedAtBytes, 0)
    const head = buffer.subarray(0, bytesRead)
    if (!isText(head) && !lists.test(head.toString('latin1'))) return
    throw new Problem(`${code}.list`, { where: clipName })
  } finally {
    await handle.close()
  }
}
