import { Button, Dialog, DialogTrigger, Popover } from 'react-aria-components'
import { tones, toneNames } from '../../../shared-core/drawing/tones.ts'
import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import { Hinted, Toggle } from '../../parts/Action.tsx'
import { SliderField } from '../../parts/SliderField.tsx'
import { useDesk } from '../../store/desk-store.ts'
import { changeStyle } from '../../store/drawings.ts'

/** Colour and width of what is selected, else of what is drawn next. */
export function StyleButton() {
  const tone = useDesk((s) => s.tone)
  const widthPx = useDesk((s) => s.widthPx)
  const hex = tones[tone as keyof typeof tones]?.hex ?? tones.chalk.hex
  return (
    <DialogTrigger>
      <Hinted label={drawingWords('colourAndWidth')}>
        <Button
          className="button button-plain button-small button-icon"
          aria-label={drawingWords('colourAndWidth')}
        >
          <span className="tone-dot" style={{ background: hex }} />
        </Button>
      </Hinted>
      <Popover className="popover">
        <Dialog className="column block-form" aria-label={drawingWords('colourAndWidth')}>
          <div className="tones" role="group" aria-label={drawingWords('colour')}>
            {toneNames.map((name) => (
              <Toggle
                key={name}
                small
                tone="plain"
                label={tones[name].label}
                icon={<span className="tone-dot" style={{ background: tones[name].hex }} />}
                isOn={tone === name}
                onChange={() => void changeStyle({ tone: name })}
              />
            ))}
          </div>
          <SliderField
            label={drawingWords('widthPx')}
            value={widthPx}
            min={1}
            max={20}
            step={1}
            onChange={(width) => useDesk.setState({ widthPx: width })}
            onDone={(width) => void changeStyle({ widthPx: width })}
          />
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
