import { windowWords } from './window-words.ts'

/** Words of a clip's picture: why it can't be shown. */
export const pictureWords = windowWords({
  noPicture: 'there is no picture in this file',
  unknownKind: 'its kind of video is not known here',
  noFrame: 'there is no frame in this file',
  noDecoder: 'this computer has no decoder for its kind of video ({codec})',
})
