/** Extensions of video files, as cameras and phones write them. */
export const videoExtensions = new Set([
  '.mp4',
  '.mov',
  '.m4v',
  '.mkv',
  '.webm',
  '.avi',
  '.mts',
  '.m2ts',
  '.3gp',
  '.hevc',
  '.ts',
  '.mpg',
  '.mpeg',
  '.wmv',
])
