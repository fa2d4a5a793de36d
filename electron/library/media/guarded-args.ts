/**
 * What a media program may open: files and pipes, and of these only what cameras, phones and this program itself write.
 * A playlist is none of it: it would make the program read other files, or ask the network.
 */
const protocols = 'file,pipe'
const formats = [
  ...['mov', 'mp4', 'm4a', '3gp', '3g2', 'mj2', 'matroska', 'webm', 'avi', 'mpegts', 'mpeg', 'mpegvideo'],
  ...['h264', 'hevc', 'm4v', 'mjpeg', 'asf', 'flv', 'mxf', 'dv', 'ogg', 'wav', 'aac', 'mp3', 'flac'],
  ...['image2', 'png_pipe', 'jpeg_pipe', 'webp_pipe', 'rawvideo', 's16le'],
].join(',')

/** One block of memory at most, bytes: larger than the largest picture, smaller than the machine. */
const maxAtOnceBytes = 1 << 30

const guards = ['-protocol_whitelist', protocols, '-format_whitelist', formats]

/** The arguments of ffmpeg or ffprobe, with every input guarded. Programs asked for their version open nothing. */
export const guardedArgs = (args: readonly string[]): string[] => {
  if (args.includes('-version')) return [...args]
  const inputs = args.includes('-i')
    ? args.flatMap((arg) => (arg === '-i' ? [...guards, arg] : [arg]))
    : // ffprobe has one input, which it takes without a flag.
      [...guards, ...args]
  return ['-max_alloc', String(maxAtOnceBytes), ...inputs]
}
