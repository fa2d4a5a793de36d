import { useEffect, useState } from 'react'
import type { CallOutput } from '../../../shared-core/contract/index.ts'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { SavedText } from '../../parts/SavedText.tsx'
import { ask } from '../../store/bridge.ts'
import { edit } from '../../store/desk-store.ts'
import { sayProblem } from '../../store/messages.ts'

type Delay = CallOutput<'lesson.soundDelays'>['delays'][number]

/** Beyond these, it is not the way through the air alone, metres. */
const airM = { from: 0, to: 40 }

/** How far the microphone was from the ball: the coach's own number, or what the clips tell by ball and sound together. */
export function MicrophoneField({ opened }: { opened: OpenLesson }) {
  const { lesson } = opened
  const [delays, setDelays] = useState<Delay[]>([])
  const lessonId = lesson.id
  // What the library reckons it from; asked anew when one of these is another, not at every edit of the lesson.
  const restsOn = JSON.stringify([
    lesson.air.temperatureC,
    opened.clips.map((c) => [c.id, c.camera, c.captureRate, c.captureRateHow, c.slowPart]),
  ])
  useEffect(() => {
    let isWanted = true
    ask('lesson.soundDelays', { lessonId }).then((found) => isWanted && setDelays(found.delays), sayProblem)
    return () => {
      isWanted = false
    }
  }, [lessonId, restsOn])
  return (
    <>
      <SavedText
        key={`mic-${lesson.id}`}
        label={ledgerWords('microphone')}
        value={lesson.isMicTold ? String(lesson.micDistanceM) : ''}
        onSave={(text) => {
          const micDistanceM = Number(text.replace(',', '.'))
          if (text.trim() === '') void edit('lesson.update', { id: lesson.id, patch: { isMicTold: false } })
          else if (micDistanceM >= 0 && micDistanceM <= 100) {
            void edit('lesson.update', { id: lesson.id, patch: { micDistanceM } })
          }
        }}
      />
      {delays.map((delay) => (
        <p key={delay.camera} className="fine soft">
          {ledgerWords('microphoneByClips', {
            camera: delay.camera === 'other' ? stageWords('camera') : stageWords(`camera.${delay.camera}`),
            strikes: delay.strikes,
            ms: delay.delayMs.toFixed(0),
            sd: delay.sdMs.toFixed(0),
          })}{' '}
          {delay.distanceM >= airM.from && delay.distanceM <= airM.to
            ? ledgerWords('microphoneAsFrom', { metres: delay.distanceM.toFixed(0) })
            : ledgerWords('microphoneNotAir')}
        </p>
      ))}
      {delays.length > 0 || !lesson.isMicTold ? (
        <p className="fine soft">
          {delays.length === 0
            ? ledgerWords('microphoneAssumed', { metres: lesson.micDistanceM })
            : ledgerWords(lesson.isMicTold ? 'microphoneYours' : 'microphoneInUse')}
        </p>
      ) : null}
    </>
  )
}
