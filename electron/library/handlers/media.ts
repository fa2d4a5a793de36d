import fs from 'node:fs'
import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { coachPictureOf } from '../coach/coach-pictures.ts'
import type { LibraryContext } from '../context.ts'
import { clipWithMedia } from '../queries/clip-with-media.ts'

const typeOf = (extension: string) => (extension === '.mov' ? 'video/quicktime' : 'video/mp4')

export const mediaHandlers = (context: LibraryContext): HandlersNamed<'media'> => {
  const { db, paths } = context

  return {
    'media.resolve': ({ of, clipId, kind }) => {
      if (of === 'coach') {
        const picture = coachPictureOf(context, clipId)
        if (!picture) throw new Problem('gone.picture', { where: clipId })
        if (kind === 'play') return { file: picture.file, type: picture.type }
        return { file: picture.still, type: picture.kind === 'clip' ? 'image/jpeg' : picture.type }
      }
      const arriving = kind === 'original' ? context.arriving.get(clipId) : undefined
      if (arriving) {
        const { copy, original, extension } = arriving
        return { file: fs.existsSync(copy) ? copy : original, type: typeOf(extension) }
      }
      const { media } = clipWithMedia(db, clipId)
      const original = { file: paths.original(media.hash, media.extension), type: typeOf(media.extension) }
      const proxy = { file: paths.proxy(media.hash), type: 'video/mp4' }
      switch (kind) {
        case 'original':
          return original
        case 'proxy':
          return proxy
        case 'play':
          // Until it is made again the original is better than nothing.
          return media.hasProxy && fs.existsSync(proxy.file) ? proxy : original
        case 'poster':
          return { file: paths.poster(media.hash), type: 'image/jpeg' }
        case 'strip':
          return { file: paths.strip(media.hash), type: 'image/jpeg' }
      }
    },
  }
}
