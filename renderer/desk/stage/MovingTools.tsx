import { Accessibility, Activity, Crosshair, PersonStanding } from 'lucide-react'
import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components'
import { bodyParts, partTrack, type BodyPart } from '../../../shared-core/body/body-part.ts'
import { headRadiusOn } from '../../../shared-core/body/head-box.ts'
import { drawingsOn, isCover, withMotion } from '../../../shared-core/drawing/drawing.ts'
import { endsOn } from '../../../shared-core/drawing/motion.ts'
import { defaultStyle } from '../../../shared-core/drawing/shape-base.ts'
import { shapes, type Shape } from '../../../shared-core/drawing/shapes.ts'
import type { ToneName } from '../../../shared-core/drawing/tones.ts'
import { placeOn } from '../../../shared-core/following/followed-track.ts'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import type { Tie } from '../../../shared-core/model/tie.ts'
import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { Action, Hinted, Toggle } from '../../parts/Action.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { useDesk } from '../../store/desk-store.ts'
import { addTied, tieDrawing, type ReadDrawing } from '../../store/drawings.ts'
import {
  followAgain,
  motionsFrom,
  removeFollowed,
  takeMarkBack,
  useFollowed,
  type ClipMotion,
} from '../../store/followed.ts'
import { sayNews } from '../../store/messages.ts'
import { lostWords, things, thingWords } from './follow-words.ts'

/** Follow a point, lines of the body that move with it, and its points to be put right. */
export function MovingTools({ view, clip }: { view: View; clip: Clip }) {
  const tool = useDesk((s) => s.tool)
  const showsJoints = useDesk((s) => s.showsJoints)
  const motion = useFollowed((s) => s.clips[clip.id])
  const isRead = (motion?.body.frames.length ?? 0) > 0
  return (
    <>
      <MenuTrigger>
        <Hinted label={drawingWords('follow')} keys={keysOf('follow')}>
          <Button
            className="button button-plain button-small button-icon"
            data-selected={tool.name === 'follow' || undefined}
            aria-label={drawingWords('follow')}
          >
            <Activity size={17} />
          </Button>
        </Hinted>
        <Popover className="popover">
          <Menu
            aria-label={drawingWords('followThrough')}
            onAction={(what) => useDesk.setState({ tool: { name: 'follow', id: null, what: String(what) } })}
          >
            {things.map((what) => (
              <MenuItem key={what} id={what} className="menu-item" textValue={thingWords(what)}>
                {what === 'point'
                  ? drawingWords('anotherPoint')
                  : drawingWords('the', { what: thingWords(what) })}
              </MenuItem>
            ))}
          </Menu>
        </Popover>
      </MenuTrigger>
      {isRead && motion && (
        <>
          <BodyLines view={view} clip={clip} motion={motion} />
          <Toggle
            small
            tone="plain"
            icon={<Accessibility size={17} />}
            label={drawingWords('bodyPoints')}
            keys={keysOf('joints')}
            isOn={showsJoints}
            onChange={(isOn) => useDesk.setState({ showsJoints: isOn })}
          />
        </>
      )}
    </>
  )
}

function BodyLines({ view, clip, motion }: { view: View; clip: Clip; motion: ClipMotion }) {
  const side = useDesk((s) => s.opened?.student.side) ?? 'right'
  const frame = useDesk((s) => s.frame)
  const tone = useDesk((s) => s.tone) as ToneName
  const widthPx = useDesk((s) => s.widthPx)
  const add = (part: BodyPart) => {
    const ends = endsOn(partTrack(motion.body, part, side), frame, clip.captureRate)
    if (!ends) {
      sayNews(drawingWords('partNotFound', { part: drawingWords(`part.${part}`) }))
      return
    }
    const style = { ...defaultStyle, tone, widthPx }
    const radius = headRadiusOn(motion.body, side, frame, clip.captureRate) ?? clip.height / 20
    const [from, to] = ends
    const shape: Shape = to
      ? shapes.line.create([from, to], style)
      : shapes.circle.create([from, { x: from.x + radius, y: from.y }], style)
    void addTied(view, shape, { frame, to: { kind: 'body', part } })
  }
  return (
    <MenuTrigger>
      <Hinted label={drawingWords('linesOfBody')}>
        <Button
          className="button button-plain button-small button-icon"
          aria-label={drawingWords('linesOfBody')}
        >
          <PersonStanding size={17} />
        </Button>
      </Hinted>
      <Popover className="popover">
        <Menu aria-label={drawingWords('linesOfBody')} onAction={(part) => add(part as BodyPart)}>
          {bodyParts.map((part) => (
            <MenuItem key={part} id={part} className="menu-item" textValue={drawingWords(`part.${part}`)}>
              {drawingWords(part === 'head' || part === 'hands' ? 'circleRound' : 'lineOf', {
                part: drawingWords(`part.${part}`),
              })}
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  )
}

/** For a selected drawing: what it moves with. For the way of a followed point: how far it was found, and how to go on. */
export function MovesWith({ view, drawing }: { view: View; drawing: ReadDrawing }) {
  const frame = useDesk((s) => s.frame)
  const lesson = useDesk((s) => s.opened)
  const motion = useFollowed((s) => s.clips[view.clipId])
  const clip = lesson?.clips.find((c) => c.id === view.clipId)
  if (!motion || !clip || !lesson) return null
  const { side } = lesson.student
  const to = drawing.tie?.to
  if (to?.kind === 'way') {
    const point = motion.points.find((p) => p.id === to.id)
    if (!point) return null
    const isMarked = point.marks.some((m) => m.frame === frame)
    return (
      <>
        <span className="fine soft follow-words" role="status">
          {lostWords(point)}
        </span>
        <Action
          small
          withLabel
          tone="plain"
          icon={<Crosshair size={16} />}
          label={isMarked ? drawingWords('markAnew') : drawingWords('markHere')}
          onPress={() => useDesk.setState({ tool: { name: 'follow', id: point.id, what: point.name } })}
        />
        {isMarked && point.marks.length > 1 && (
          <Action
            small
            withLabel
            tone="plain"
            label={drawingWords('takeMarkBack')}
            onPress={() => void takeMarkBack(point.id, frame)}
          />
        )}
        {point.track.frames.length === 0 && (
          <Action
            small
            withLabel
            tone="plain"
            label={drawingWords('followAgain')}
            onPress={() => void followAgain(point.id)}
          />
        )}
        <Action
          small
          withLabel
          tone="plain"
          label={drawingWords('stopFollowing')}
          onPress={() => void removeFollowed(point.id)}
        />
      </>
    )
  }
  const onFrame = motion.points.filter((p) => placeOn(p.track, frame) !== null)
  const parts = bodyParts.filter(
    (part) => endsOn(partTrack(motion.body, part, side), frame, clip.captureRate) !== null,
  )
  const options = [
    ...onFrame.map((p) => ({
      value: `point ${p.id}`,
      label: drawingWords('movesWithThe', { what: thingWords(p.name) }),
    })),
    ...(isCover(drawing.shape) ? parts.filter((part) => part === 'head') : parts).map((part) => ({
      value: `body ${part}`,
      label: drawingWords('movesWithThe', { what: drawingWords(`part.${part}`) }),
    })),
  ]
  const value = !to ? 'stays' : to.kind === 'body' ? `body ${to.part}` : `point ${to.id}`
  if (options.length === 0 && !to) return null
  const known = options.some((o) => o.value === value)
  const choose = (chosen: string) => {
    // As it lies on this frame: it must not jump when it is tied or let go.
    const [moving] = drawingsOn(withMotion([drawing], motionsFrom(motion, side, clip.captureRate)), frame)
    const shape = moving?.shape ?? drawing.shape
    const [kind, ...rest] = chosen.split(' ')
    const tie: Tie | null =
      kind === 'point'
        ? { frame, to: { kind: 'followed', id: rest.join(' ') } }
        : kind === 'body'
          ? { frame, to: { kind: 'body', part: rest.join(' ') as BodyPart } }
          : null
    void tieDrawing(drawing.id, shape, tie)
  }
  return (
    <Pick
      hideLabel
      label={drawingWords('movesWith')}
      value={value}
      options={[
        { value: 'stays', label: drawingWords('stays') },
        ...options,
        ...(known || !to ? [] : [{ value, label: drawingWords('movesUnseen') }]),
      ]}
      onChange={choose}
    />
  )
}
