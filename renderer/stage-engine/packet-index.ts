import { type EncodedPacket, EncodedPacketSink, type InputVideoTrack } from 'mediabunny'

/** Where every frame of a clip lies: frames are counted in the order they are shown, packets in the order they decode. */
export interface PacketIndex {
  readonly frameCount: number
  /** Packets in decode order, without their bytes. */
  readonly packets: readonly EncodedPacket[]
  /** Frame → index of its packet in decode order. */
  readonly packetOfFrame: Int32Array
  /** Frame → index of the key packet from which it can be decoded. */
  readonly keyOfFrame: Int32Array
  /** The frame a decoded picture belongs to, by the timestamp (microseconds) its packet carried; -1 for none. */
  frameOfMicroseconds(timestamp: number): number
}

/**
 * Reads the list of packets (not their bytes) of a track.
 * @param atSeconds the frames as the library counted them; used when the file holds packets that are never shown
 */
export const indexPackets = async (
  track: InputVideoTrack,
  atSeconds: ArrayLike<number> | Promise<ArrayLike<number>>,
): Promise<PacketIndex> => {
  const sink = new EncodedPacketSink(track)
  const packets: EncodedPacket[] = []
  for await (const packet of sink.packets(undefined, undefined, { metadataOnly: true })) packets.push(packet)
  return buildPacketIndex(packets, await atSeconds)
}

/** The index itself, from packets alone. */
export const buildPacketIndex = (
  packets: readonly EncodedPacket[],
  atSeconds: ArrayLike<number>,
): PacketIndex => {
  let shown = packets
    .map((packet, index) => ({ packet, index }))
    .sort((a, b) => a.packet.timestamp - b.packet.timestamp)
  if (shown.length > atSeconds.length) {
    // Packets before the start (cut by an edit list) are decoded but never shown.
    const visible = shown.filter(({ packet }) => packet.timestamp > -1e-6)
    shown =
      visible.length >= atSeconds.length ? visible.slice(0, atSeconds.length) : shown.slice(-atSeconds.length)
  }
  const keys = packets.flatMap((packet, index) => (packet.type === 'key' ? [index] : []))
  const packetOfFrame = new Int32Array(shown.length)
  const keyOfFrame = new Int32Array(shown.length)
  const frames = new Map<number, number>()
  shown.forEach(({ packet, index }, frame) => {
    packetOfFrame[frame] = index
    frames.set(packet.microsecondTimestamp, frame)
    let key = 0
    for (const k of keysUpTo(keys, index)) {
      // A picture shown before a key picture may lean on what came before that key.
      if (packets[k]!.timestamp <= packet.timestamp) {
        key = k
        break
      }
    }
    keyOfFrame[frame] = key
  })
  return {
    frameCount: shown.length,
    packets,
    packetOfFrame,
    keyOfFrame,
    frameOfMicroseconds: (timestamp) =>
      frames.get(timestamp) ?? frames.get(timestamp - 1) ?? frames.get(timestamp + 1) ?? -1,
  }
}

/** The last two key indices at or before an index, nearest first. */
const keysUpTo = (keys: readonly number[], index: number): number[] => {
  let low = 0
  let high = keys.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (keys[middle]! <= index) low = middle + 1
    else high = middle
  }
  return [keys[low - 1], keys[low - 2]].filter((k) => k !== undefined)
}
