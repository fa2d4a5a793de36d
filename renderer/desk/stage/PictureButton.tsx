import { SunMedium } from 'lucide-react'
import { useState } from 'react'
import { Button, Dialog, DialogTrigger, Popover } from 'react-aria-components'
import type { Clip } from '../../../shared-core/model/entities.ts'
import { Hinted } from '../../parts/Action.tsx'
import { Level } from '../../parts/Level.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { edit, expectView } from '../../store/desk-store.ts'
import { CaptureRate, captureWords } from './CaptureRate.tsx'

/** What the sliders set. */
interface Levels {
  brightness: number
  contrast: number
  tiltDeg: number
}

/** How a clip is shown, and how it was filmed; the clip itself is never changed. */
export function PictureButton({ clip }: { clip: Clip }) {
  const show = (patch: Partial<Clip>) =>
    expectView((v) => ({ ...v, clips: v.clips.map((c) => (c.id === clip.id ? { ...c, ...patch } : c)) }))
  /** What is being set is what the sliders show, whatever answers of the library are still on their way. */
  const [held, setHeld] = useState<Partial<Levels>>({})
  const level = { brightness: clip.brightness, contrast: clip.contrast, tiltDeg: clip.tiltDeg, ...held }
  const set = (patch: Partial<Levels>) => {
    setHeld(patch)
    show(patch)
  }
  const save = (patch: Partial<Levels>) => {
    setHeld(patch)
    void edit('clip.update', { id: clip.id, patch }).finally(() =>
      setHeld((now) => (now === patch ? {} : now)),
    )
  }
  return (
    <DialogTrigger>
      <Hinted label="Picture and camera">
        <Button className="button button-plain button-small button-icon" aria-label="Picture and camera">
          <SunMedium size={17} />
        </Button>
      </Hinted>
      <Popover className="popover">
        <Dialog className="column block-form" aria-label="Picture and camera">
          <Level
            label="Brightness"
            value={level.brightness}
            min={-0.8}
            max={1}
            step={0.05}
            format={{ style: 'percent' }}
            onChange={(brightness) => set({ brightness })}
            onDone={(brightness) => save({ brightness })}
          />
          <Level
            label="Contrast"
            value={level.contrast}
            min={-0.8}
            max={1}
            step={0.05}
            format={{ style: 'percent' }}
            onChange={(contrast) => set({ contrast })}
            onDone={(contrast) => save({ contrast })}
          />
          <Level
            label="Tilt of the camera, degrees clockwise"
            value={level.tiltDeg}
            min={-10}
            max={10}
            step={0.1}
            onChange={(tiltDeg) => set({ tiltDeg })}
            onDone={(tiltDeg) => save({ tiltDeg })}
          />
          <Pick
            label="Camera"
            value={clip.camera}
            options={[
              { value: 'face-on', label: 'face-on' },
              { value: 'down-the-line', label: 'down the line' },
              { value: 'other', label: 'other' },
            ]}
            onChange={(camera) => void edit('clip.update', { id: clip.id, patch: { camera } })}
          />
          <CaptureRate key={clip.id} clip={clip} />
          <p className="fine soft">
            {captureWords[clip.captureRateHow]} The file plays at{' '}
            {clip.playbackRate.toFixed(clip.playbackRate % 1 ? 2 : 0)}
            {clip.hasVariableRate ? ' on most frames (its rate varies)' : ''}.
          </p>
          <p className="fine soft">
            {clip.pixelsPerMeter
              ? `Scale: ${clip.pixelsPerMeter.toFixed(0)} pixels a metre. One camera cannot see depth.`
              : 'No scale yet: draw a ruler on something of known length.'}
          </p>
          <p className="fine soft">The clip itself is never changed.</p>
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
