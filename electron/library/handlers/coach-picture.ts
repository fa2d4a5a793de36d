import type { HandlersNamed } from '../../../shared-core/contract/index.ts'
import { addCoachPicture, coachPictureOf } from '../coach/coach-pictures.ts'
import type { LibraryContext } from '../context.ts'

export const coachPictureHandlers = (context: LibraryContext): HandlersNamed<'coachPicture'> => ({
  'coachPicture.add': (wanted) => addCoachPicture(context, wanted),
  'coachPicture.get': ({ id }) => {
    const found = coachPictureOf(context, id)
    if (!found) return { picture: null }
    const { file: _file, still: _still, type: _type, ...picture } = found
    return { picture }
  },
})
