import { Label, Slider, SliderOutput, SliderThumb, SliderTrack } from 'react-aria-components'

/** A slider with its name and value. */
export function SliderField(props: {
  label: string
  value: number
  min: number
  max: number
  step: number
  format?: Intl.NumberFormatOptions
  onChange: (value: number) => void
  onDone?: (value: number) => void
}) {
  return (
    <Slider
      className="slider"
      value={props.value}
      minValue={props.min}
      maxValue={props.max}
      step={props.step}
      formatOptions={props.format}
      onChange={(value) => props.onChange(value as number)}
      onChangeEnd={(value) => props.onDone?.(value as number)}
    >
      <Label className="label">{props.label}</Label>
      <SliderOutput />
      <SliderTrack className="slider-track">
        <SliderThumb className="slider-thumb" />
      </SliderTrack>
    </Slider>
  )
}
