import type { Clip } from '../../../shared-core/model/entities.ts'
import { Action } from '../../parts/Action.tsx'
import { edit } from '../../store/desk-store.ts'

/** True while nobody but the program has said how fast a clip was filmed: times rest on a guess. */
export const isRateGuessed = (clip: Clip | null): boolean =>
  clip !== null && (clip.captureRateHow === 'motion' || clip.captureRateHow === 'assumed')

const plain = (rate: number): string => rate.toFixed(Number.isInteger(Math.round(rate * 100) / 100) ? 0 : 2)

/** Asks how fast a clip was filmed, where it was only guessed. One press answers it. */
export function RateOffer({ clip }: { clip: Clip }) {
  if (clip.stillKind !== null || !isRateGuessed(clip)) return null
  const use = (captureRate: number) => void edit('clip.update', { id: clip.id, patch: { captureRate } })
  const { captureRate, playbackRate } = clip
  const played = plain(playbackRate)
  const isSlowed = clip.captureRateHow === 'motion' && Math.abs(captureRate / playbackRate - 1) > 0.05
  return (
    <div className="rate-offer" role="group" aria-label="How fast it was filmed">
      <span className="fine">
        {isSlowed
          ? `Looks filmed at about ${plain(captureRate)} frames a second, by the swing in it. Until you say so, every time here is “about”.`
          : `How fast this was filmed can’t be told from the file. Until you say so, times are as it plays, ${played} frames a second.`}
      </span>
      {isSlowed && <Action small label={`Use ${plain(captureRate)}`} onPress={() => use(captureRate)} />}
      <Action
        small
        tone="plain"
        label={isSlowed ? `No, ${played}` : `It was ${played}`}
        onPress={() => use(playbackRate)}
      />
    </div>
  )
}
