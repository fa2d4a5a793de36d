import type { Clip } from '../../../shared-core/model/entities.ts'
import { alsoAnswered } from '../../../shared-core/moments/answered-rate.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { edit, useDesk } from '../../store/desk-store.ts'
import { sayNews } from '../../store/messages.ts'

/** Tells how fast a clip was filmed; what else was answered with it is said. */
export const tellRate = async (clip: Clip, captureRate: number): Promise<void> => {
  const count = alsoAnswered(clip, captureRate, useDesk.getState().opened?.clips ?? []).length
  const done = await edit('clip.update', { id: clip.id, patch: { captureRate } })
  if (done && count > 0) sayNews(stageWords('rateToldForMore', { count }))
}
