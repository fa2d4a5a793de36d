import { open } from 'node:fs/promises'

/** Bytes of a transport stream's packet: bare, and with a recorder's own clock before each (ISO/IEC 13818-1; AVCHD). */
const packets = [
  { bytes: 188, syncAt: 0 },
  { bytes: 192, syncAt: 4 },
] as const
const syncByte = 0x47
/** So many packets in a row that begin as they must are a transport stream. */
const looked = 5

/**
 * Whether a transport stream (MTS, TS) breaks off within a packet: such a file says nothing of its length, but whoever writes one writes
 * whole packets. False for any other file.
 */
export const breaksOff = async (file: string): Promise<boolean> => {
  const handle = await open(file)
  try {
    const { size } = await handle.stat()
    const head = Buffer.alloc(Math.min(size, looked * 192))
    await handle.read(head, 0, head.length, 0)
    const packet = packets.find(({ bytes, syncAt }) =>
      Array.from({ length: looked }, (_, i) => head[i * bytes + syncAt]).every((byte) => byte === syncByte),
    )
    return packet !== undefined && size % packet.bytes !== 0
  } finally {
    await handle.close()
  }
}
