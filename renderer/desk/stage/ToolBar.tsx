import {
  ArrowDownToLine,
  ArrowUpRight,
  ArrowUpToLine,
  Circle,
  Copy,
  CopyPlus,
  Eye,
  EyeOff,
  Hand,
  ListOrdered,
  MapPin,
  Minus,
  MoveVertical,
  MoveHorizontal,
  Pencil,
  Ruler,
  Scaling,
  Spline,
  Square,
  SquareDashed,
  SunMedium,
  Trash2,
  TriangleRight,
  Type,
  FlipHorizontal2,
} from 'lucide-react'
import { useState, type ReactNode } from 'react'
import { Button, Dialog, DialogTrigger, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import { isCover } from '../../../shared-core/drawing/drawing.ts'
import { shapes, shapeKinds, type ShapeKind } from '../../../shared-core/drawing/shapes.ts'
import { tones, toneNames } from '../../../shared-core/drawing/tones.ts'
import type { Point } from '../../../shared-core/geometry/point.ts'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { commandNamed } from '../../keys/commands.ts'
import { Action, Hinted, Toggle } from '../../parts/Action.tsx'
import { Level } from '../../parts/Level.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { openDialog } from '../../store/app-store.ts'
import { edit, expectView, useDesk } from '../../store/desk-store.ts'
import {
  changeOrder,
  changeShape,
  changeStyle,
  copyToOtherView,
  drawingsOf,
  removeSelectedDrawings,
  setMoment,
  setRange,
  toggleHidden,
} from '../../store/drawings.ts'
import { toggleMirror } from '../../store/swings.ts'
import { MovesWith, MovingTools } from './MovingTools.tsx'
import { pictureOptions } from './picture-words.ts'
import { showFrame } from '../../store/stage-control.ts'

const icons: Record<ShapeKind, ReactNode> = {
  line: <Minus size={17} />,
  arrow: <ArrowUpRight size={17} />,
  curve: <Spline size={17} />,
  angle: <TriangleRight size={17} />,
  circle: <Circle size={17} />,
  box: <Square size={17} />,
  freehand: <Pencil size={17} />,
  text: <Type size={17} />,
  plumb: <MoveVertical size={17} />,
  level: <MoveHorizontal size={17} />,
  ruler: <Ruler size={17} />,
  cover: <SquareDashed size={17} />,
}

/** What can be done on the picture: look, draw, pin a cue; and how what is selected looks. */
export function ToolBar({ view, clip }: { view: View | null; clip: Clip | null }) {
  const tool = useDesk((s) => s.tool)
  const showsDrawings = useDesk((s) => s.showsDrawings)
  const isOff = !view || !clip
  return (
    <div className="tool-bar" role="toolbar" aria-label="Tools">
      <Toggle
        small
        tone="plain"
        icon={<Hand size={17} />}
        label="Look and select"
        keys={keysOf('select')}
        isOn={tool.name === 'look'}
        isDisabled={isOff}
        onChange={() => commandNamed('select').run()}
      />
      {shapeKinds.map((kind) => (
        <Toggle
          key={kind}
          small
          tone="plain"
          icon={icons[kind]}
          label={shapes[kind].name}
          keys={keysOf(`draw-${kind}`)}
          isOn={tool.name === 'shape' && tool.kind === kind}
          isDisabled={isOff}
          onChange={(isOn) =>
            isOn ? commandNamed(`draw-${kind}`).run() : useDesk.setState({ tool: { name: 'look' } })
          }
        />
      ))}
      <Toggle
        small
        tone="plain"
        icon={<MapPin size={17} />}
        label="Pin a cue on the picture"
        isOn={tool.name === 'cue'}
        isDisabled={isOff}
        onChange={(isOn) => useDesk.setState({ tool: isOn ? { name: 'cue' } : { name: 'look' } })}
      />
      {view && clip && <MovingTools view={view} clip={clip} />}
      <span className="bar-rule" />
      <StyleButton />
      <Toggle
        small
        tone="plain"
        icon={showsDrawings ? <Eye size={17} /> : <EyeOff size={17} />}
        label="Drawings and cues on the picture"
        keys={keysOf('all-drawings')}
        isOn={showsDrawings}
        onChange={(isOn) => useDesk.setState({ showsDrawings: isOn })}
      />
      <Toggle
        small
        tone="plain"
        icon={<FlipHorizontal2 size={17} />}
        label="Mirror"
        keys={keysOf('mirror')}
        isOn={clip?.isMirrored ?? false}
        isDisabled={isOff}
        onChange={toggleMirror}
      />
      {view && view.drawings.length > 0 && <DrawingList view={view} />}
      {clip && <PictureButton clip={clip} />}
      {view && <SelectedBar view={view} />}
    </div>
  )
}

function StyleButton() {
  const tone = useDesk((s) => s.tone)
  const widthPx = useDesk((s) => s.widthPx)
  const hex = tones[tone as keyof typeof tones]?.hex ?? tones.chalk.hex
  return (
    <DialogTrigger>
      <Hinted label="Colour and width">
        <Button className="button button-plain button-small button-icon" aria-label="Colour and width">
          <span className="tone-dot" style={{ background: hex }} />
        </Button>
      </Hinted>
      <Popover className="popover">
        <Dialog className="column block-form" aria-label="Colour and width">
          <div className="tones" role="group" aria-label="Colour">
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
          <Level
            label="Width, pixels of the clip"
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

/** Every drawing of the swing, the hidden ones too: to go to it and select it, to show or hide it. */
function DrawingList({ view }: { view: View }) {
  const { drawings } = drawingsOf(view)
  const selectedIds = useDesk((s) => s.selectedDrawingIds)
  const inOrder = [...drawings].sort((a, b) => a.fromFrame - b.fromFrame || a.order - b.order)
  const whereOf = (d: (typeof drawings)[number]) =>
    view.moments.find((m) => m.id === d.momentId)?.name ??
    (d.fromFrame === d.toFrame ? `frame ${d.fromFrame}` : `frames ${d.fromFrame} to ${d.toFrame}`)
  return (
    <DialogTrigger>
      <Hinted label="Drawings of this swing">
        <Button className="button button-plain button-small button-icon" aria-label="Drawings of this swing">
          <ListOrdered size={17} />
        </Button>
      </Hinted>
      <Popover className="popover">
        <Dialog className="column block-form drawing-list" aria-label="Drawings of this swing">
          {inOrder.map((d) => {
            const name = [shapes[d.shape.kind].name, d.shape.label && `“${d.shape.label}”`, whereOf(d)]
              .filter(Boolean)
              .join(' · ')
            return (
              <div key={d.id} className="row">
                <Toggle
                  small
                  tone="plain"
                  label={name}
                  isOn={selectedIds.has(d.id)}
                  onChange={() => {
                    useDesk.setState({ selectedDrawingIds: new Set([d.id]), tool: { name: 'look' } })
                    showFrame(d.fromFrame)
                  }}
                />
                <span className="push" />
                <Action
                  small
                  tone="plain"
                  icon={d.isHidden ? <EyeOff size={16} /> : <Eye size={16} />}
                  label={`${d.isHidden ? 'Show' : 'Hide'} ${name}`}
                  onPress={() => void edit('drawing.update', { id: d.id, patch: { isHidden: !d.isHidden } })}
                />
              </div>
            )
          })}
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}

/** What the sliders set. */
interface Levels {
  brightness: number
  contrast: number
  tiltDeg: number
}

function PictureButton({ clip }: { clip: Clip }) {
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

/** Rates cameras film at; any other can be typed. */
const usualRates = [24, 25, 30, 50, 60, 100, 120, 240, 300, 480, 960]

/** How many frames a second the camera took; every time that is shown follows from it. */
function CaptureRate({ clip }: { clip: Clip }) {
  const known = String(Math.round(clip.captureRate * 1000) / 1000)
  /** What is being typed, until it is saved. */
  const [typed, setTyped] = useState<string | null>(null)
  const text = typed ?? known
  const rate = Number(text.replace(',', '.'))
  const isGood = rate >= 1 && rate <= 20_000
  const save = () => {
    if (!isGood || text === known) return
    void edit('clip.update', { id: clip.id, patch: { captureRate: rate } }).finally(() =>
      setTyped((now) => (now === text ? null : now)),
    )
  }
  return (
    <div className="field">
      <label htmlFor="capture-rate">Filmed at, frames a second</label>
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
        {isGood ? '' : 'A number from 1 to 20 000'}
      </span>
    </div>
  )
}

const captureWords: Record<Clip['captureRateHow'], string> = {
  file: 'Taken from the file.',
  tag: 'Taken from a tag in the file.',
  motion: 'Guessed from the motion; please check.',
  coach: 'Set by you.',
  assumed: 'Assumed; please check.',
}

/** For what is selected: words, place in time, order, copy, hide, delete. */
function SelectedBar({ view }: { view: View }) {
  const selectedIds = useDesk((s) => s.selectedDrawingIds)
  const frame = useDesk((s) => s.frame)
  const lesson = useDesk((s) => s.view)
  const { drawings, unreadable } = drawingsOf(view)
  const [first] = drawings.filter((d) => selectedIds.has(d.id))
  if (!first) {
    return unreadable > 0 ? (
      <span className="fine soft">{unreadable} drawings need a newer Leadside; they are kept</span>
    ) : null
  }
  const moments = [...view.moments].sort((a, b) => a.frame - b.frame)
  const others = lesson ? pictureOptions(lesson).filter((o) => o.value !== view.id) : []
  const words =
    first.shape.kind === 'text' ? (first.shape as unknown as { text: string }).text : first.shape.label
  const isRange = first.momentId === null && first.fromFrame !== first.toFrame
  const isOneFrame = first.momentId === null && !isRange
  const isWay = first.tie?.to.kind === 'way'
  // A cover holds for the clip, whatever is made of it later; other shapes for the swing.
  const hidesFaces = isCover(first.shape)
  const clip = lesson?.clips.find((c) => c.id === view.clipId)
  const whole: [number, number] =
    hidesFaces && clip ? [0, clip.frameCount - 1] : [view.fromFrame, view.toFrame]
  const isWhole = isRange && first.fromFrame === whole[0] && first.toFrame === whole[1]
  const saveWords = (text: string) =>
    void changeShape(view.id, first.id, {
      ...first.shape,
      ...(first.shape.kind === 'text' ? { text: text || ' ' } : { label: text }),
    } as typeof first.shape)
  return (
    <div className="selected-bar" role="group" aria-label="Selected drawing">
      <SavedText
        key={first.id}
        hideLabel
        label={first.shape.kind === 'text' ? 'Text' : 'Words beside the drawing'}
        placeholder={first.shape.kind === 'text' ? 'Text' : 'Words beside it'}
        value={words}
        maxLength={200}
        onSave={saveWords}
      />
      <Pick
        hideLabel
        label="Shown on"
        value={first.momentId ?? (isWhole ? 'all' : isRange ? 'range' : 'frame')}
        options={[
          ...moments.map((m) => ({ value: m.id, label: `on ${m.name}` })),
          ...(isRange && !isWhole
            ? [{ value: 'range', label: `frames ${first.fromFrame} to ${first.toFrame}` }]
            : []),
          { value: 'frame', label: isOneFrame ? `frame ${first.fromFrame}` : 'this frame only' },
          { value: 'from', label: 'from this frame on' },
          { value: 'to', label: 'up to this frame' },
          { value: 'all', label: hidesFaces ? 'the whole clip' : 'the whole swing' },
        ]}
        onChange={(value) => {
          const moment = moments.find((m) => m.id === value)
          if (moment) void setMoment(first.id, moment)
          else if (value === 'frame') void setRange(first.id, frame, frame)
          else if (value === 'all') void setRange(first.id, ...whole)
          else if (value === 'from') void setRange(first.id, frame, Math.max(frame, first.toFrame))
          else if (value === 'to') void setRange(first.id, Math.min(frame, first.fromFrame), frame)
        }}
      />
      <MovesWith view={view} drawing={first} />
      <Action
        small
        tone="plain"
        icon={<ArrowUpToLine size={16} />}
        label="To the front"
        keys={keysOf('raise')}
        onPress={() => void changeOrder('front')}
      />
      <Action
        small
        tone="plain"
        icon={<ArrowDownToLine size={16} />}
        label="To the back"
        keys={keysOf('lower')}
        onPress={() => void changeOrder('back')}
      />
      {!isWay && (
        <Action
          small
          tone="plain"
          icon={<Copy size={16} />}
          label="Copy to the next swing"
          keys={keysOf('copy')}
          onPress={() => void copyToOtherView()}
        />
      )}
      {!isWay && (
        <MenuTrigger>
          <Hinted label="Copy to another swing">
            <Button
              className="button button-plain button-small button-icon"
              aria-label="Copy to another swing"
            >
              <CopyPlus size={16} />
            </Button>
          </Hinted>
          <Popover className="popover">
            <Menu aria-label="Copy to" onAction={(viewId) => void copyToOtherView(String(viewId))}>
              {others.map((o) => (
                <MenuItem key={o.value} id={o.value} className="menu-item" textValue={o.label}>
                  {o.label}
                </MenuItem>
              ))}
            </Menu>
          </Popover>
        </MenuTrigger>
      )}
      {first.shape.kind === 'ruler' && (
        <Action
          small
          tone="plain"
          icon={<Scaling size={16} />}
          label="Use this ruler as the scale"
          onPress={() => {
            const { from, to } = first.shape as unknown as { from: Point; to: Point }
            openDialog({
              name: 'scale',
              viewId: view.id,
              lengthPx: Math.hypot(from.x - to.x, from.y - to.y),
            })
          }}
        />
      )}
      <Action
        small
        tone="plain"
        icon={first.isHidden ? <Eye size={16} /> : <EyeOff size={16} />}
        label={first.isHidden ? 'Show' : 'Hide'}
        keys={keysOf('hide')}
        onPress={() => void toggleHidden()}
      />
      <Action
        small
        tone="plain"
        icon={<Trash2 size={16} />}
        label="Remove"
        keys={keysOf('remove')}
        onPress={() => void removeSelectedDrawings()}
      />
    </div>
  )
}
