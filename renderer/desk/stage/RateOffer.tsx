import type { Clip } from '../../../shared-core/model/entities.ts'
import { alsoAnswered } from '../../../shared-core/moments/answered-rate.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { Action } from '../../parts/Action.tsx'
import { useDesk } from '../../store/desk-store.ts'
import { tellRate } from './tell-rate.ts'

/** True while nobody but the program has said how fast a clip was filmed: times rest on a guess. */
export const isRateGuessed = (clip: Clip | null): boolean =>
  clip !== null && (clip.captureRateHow === 'motion' || clip.captureRateHow === 'assumed')

const plain = (rate: number): string => rate.toFixed(Number.isInteger(Math.round(rate * 100) / 100) ? 0 : 2)

/** From and to of a clip’s slow part, in words. */
export const secondsOf = (part: NonNullable<Clip['slowPart']>): { from: string; to: string } => ({
  from: part.fromSeconds.toFixed(1),
  to: part.toSeconds.toFixed(1),
})

/** Asks how fast a clip was filmed, where it was only guessed. One press answers it. */
export function RateOffer({ clip }: { clip: Clip }) {
  const clips = useDesk((state) => state.opened?.clips)
  if (clip.stillKind !== null || !isRateGuessed(clip)) return null
  const use = (captureRate: number) => void tellRate(clip, captureRate)
  const { captureRate, playbackRate, slowPart } = clip
  const played = plain(playbackRate)
  const isSlowed = clip.captureRateHow === 'motion' && Math.abs(captureRate / playbackRate - 1) > 0.05
  const more = alsoAnswered(clip, isSlowed ? captureRate : playbackRate, clips ?? []).length
  return (
    <div className="rate-offer" role="group" aria-label={stageWords('howFast')}>
      <span className="fine">
        {slowPart && isSlowed
          ? stageWords('looksSlowFromTo', { ...secondsOf(slowPart), rate: plain(captureRate) })
          : isSlowed
            ? stageWords('looksFilmedAt', { rate: plain(captureRate) })
            : stageWords('howFastUnknown', { rate: played })}
        {more > 0 && ` ${stageWords('rateHoldsForMore', { count: more })}`}
      </span>
      {isSlowed && (
        <Action
          small
          label={stageWords('use', { rate: plain(captureRate) })}
          onPress={() => use(captureRate)}
        />
      )}
      <Action
        small
        tone="plain"
        label={isSlowed ? stageWords('no', { rate: played }) : stageWords('itWas', { rate: played })}
        onPress={() => use(playbackRate)}
      />
    </div>
  )
}
