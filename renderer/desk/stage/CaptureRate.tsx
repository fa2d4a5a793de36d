import { useState } from 'react'
import type { Clip } from '../../../shared-core/model/entities.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { tellRate } from './tell-rate.ts'

/** Rates cameras film at; any other can be typed. */
const usualRates = [24, 25, 30, 50, 60, 100, 120, 240, 300, 480, 960]

/** How many frames a second the camera took; every time that is shown follows from it. */
export function CaptureRate({ clip }: { clip: Clip }) {
  const known = String(Math.round(clip.captureRate * 1000) / 1000)
  /** What is being typed, until it is saved. */
  const [typed, setTyped] = useState<string | null>(null)
  const text = typed ?? known
  const rate = Number(text.replace(',', '.'))
  const isGood = rate >= 1 && rate <= 20_000
  const save = () => {
    if (!isGood || text === known) return
    void tellRate(clip, rate).finally(() => setTyped((now) => (now === text ? null : now)))
  }
  return (
    <div className="field">
      <label htmlFor="capture-rate">{stageWords('captureRate')}</label>
      <input
        id="capture-rate"
        className="input"
        inputMode="decimal"
        list="usual-rates"
        value={text}
        aria-invalid={!isGood}
        aria-describedby="capture-rate-said"
        onChange={(event) => setTyped(event.target.value)}
        onBlur={save}
        onKeyDown={(event) => event.key === 'Enter' && save()}
      />
      <datalist id="usual-rates">
        {usualRates.map((usual) => (
          <option key={usual} value={usual} />
        ))}
      </datalist>
      <span id="capture-rate-said" className="fine soft" role="status">
        {isGood ? '' : stageWords('captureRateLimits')}
      </span>
    </div>
  )
}
