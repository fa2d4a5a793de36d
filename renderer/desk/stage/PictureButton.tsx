import { SunMedium } from 'lucide-react'
import { useState } from 'react'
import { Button, Dialog, DialogTrigger, Popover } from 'react-aria-components'
import type { Clip } from '../../../shared-core/model/entities.ts'
import { stageWords } from '../../../shared-core/wording/window/stage.ts'
import { Hinted } from '../../parts/Action.tsx'
import { SliderField } from '../../parts/SliderField.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { edit, expectView } from '../../store/desk-store.ts'
import { CaptureRate } from './CaptureRate.tsx'
import { secondsOf } from './RateOffer.tsx'

/** What the sliders set. */
interface Adjustments {
  brightness: number
  contrast: number
  tiltDeg: number
}

/** How a clip is shown, and how it was filmed; the clip itself is never changed. */
export function PictureButton({ clip }: { clip: Clip }) {
  const show = (patch: Partial<Clip>) =>
    expectView((v) => ({ ...v, clips: v.clips.map((c) => (c.id === clip.id ? { ...c, ...patch } : c)) }))
  /** What is being set is what the sliders show, whatever answers of the library are still on their way. */
  const [held, setHeld] = useState<Partial<Adjustments>>({})
  const level = { brightness: clip.brightness, contrast: clip.contrast, tiltDeg: clip.tiltDeg, ...held }
  const set = (patch: Partial<Adjustments>) => {
    setHeld(patch)
    show(patch)
  }
  const save = (patch: Partial<Adjustments>) => {
    setHeld(patch)
    void edit('clip.update', { id: clip.id, patch }).finally(() =>
      setHeld((now) => (now === patch ? {} : now)),
    )
  }
  return (
    <DialogTrigger>
      <Hinted label={stageWords('picture')}>
        <Button className="button button-plain button-small button-icon" aria-label={stageWords('picture')}>
          <SunMedium size={17} />
        </Button>
      </Hinted>
      <Popover className="popover">
        <Dialog className="column block-form" aria-label={stageWords('picture')}>
          <SliderField
            label={stageWords('brightness')}
            value={level.brightness}
            min={-0.8}
            max={1}
            step={0.05}
            format={{ style: 'percent' }}
            onChange={(brightness) => set({ brightness })}
            onDone={(brightness) => save({ brightness })}
          />
          <SliderField
            label={stageWords('contrast')}
            value={level.contrast}
            min={-0.8}
            max={1}
            step={0.05}
            format={{ style: 'percent' }}
            onChange={(contrast) => set({ contrast })}
            onDone={(contrast) => save({ contrast })}
          />
          <SliderField
            label={stageWords('tilt')}
            value={level.tiltDeg}
            min={-10}
            max={10}
            step={0.1}
            onChange={(tiltDeg) => set({ tiltDeg })}
            onDone={(tiltDeg) => save({ tiltDeg })}
          />
          <Pick
            label={stageWords('camera')}
            value={clip.camera}
            options={[
              { value: 'face-on', label: stageWords('faceOn') },
              { value: 'down-the-line', label: stageWords('camera.down-the-line') },
              { value: 'other', label: stageWords('other') },
            ]}
            onChange={(camera) => void edit('clip.update', { id: clip.id, patch: { camera } })}
          />
          <CaptureRate key={clip.id} clip={clip} />
          <p className="fine soft">
            {stageWords(clip.hasVariableRate ? 'filePlaysAtMostly' : 'filePlaysAt', {
              how: stageWords(`rateHow.${clip.captureRateHow}`),
              rate: clip.playbackRate.toFixed(clip.playbackRate % 1 ? 2 : 0),
            })}
          </p>
          {clip.slowPart && <p className="fine soft">{stageWords('slowFromTo', secondsOf(clip.slowPart))}</p>}
          <p className="fine soft">
            {clip.pixelsPerMeter
              ? stageWords('scale', { pixels: clip.pixelsPerMeter.toFixed(0) })
              : stageWords('noScaleYet')}
          </p>
          <p className="fine soft">{stageWords('clipUnchanged')}</p>
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
