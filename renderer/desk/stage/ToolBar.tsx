import {
  ArrowUpRight,
  Circle,
  Eye,
  EyeOff,
  Hand,
  MapPin,
  Minus,
  MoveVertical,
  MoveHorizontal,
  Pencil,
  Ruler,
  Spline,
  Square,
  SquareDashed,
  TriangleRight,
  Type,
  FlipHorizontal2,
} from 'lucide-react'
import type { ReactNode } from 'react'
import { shapes, shapeKinds, type ShapeKind } from '../../../shared-core/drawing/shapes.ts'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import { drawingWords } from '../../../shared-core/wording/window/drawing.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { commandNamed } from '../../keys/commands.ts'
import { Toggle } from '../../parts/Action.tsx'
import { useDesk } from '../../store/desk-store.ts'
import { toggleMirror } from '../../store/swings.ts'
import { MovingTools } from './MovingTools.tsx'
import { DrawingList } from './DrawingList.tsx'
import { PictureButton } from './PictureButton.tsx'
import { SelectedBar } from './SelectedBar.tsx'
import { StyleButton } from './StyleButton.tsx'

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
export function ToolBar(props: {
  view: View | null
  clip: Clip | null
  /** The picture is there, and its tools come with its swing: the bar keeps their places, so that nothing moves. */
  keepsPlaces: boolean
}) {
  const { view, clip, keepsPlaces } = props
  const tool = useDesk((s) => s.tool)
  const showsDrawings = useDesk((s) => s.showsDrawings)
  const isOff = !view || !clip
  return (
    <div className="tool-bar" role="toolbar" aria-label={drawingWords('tools')}>
      <Toggle
        small
        tone="plain"
        icon={<Hand size={17} />}
        label={drawingWords('look')}
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
        label={drawingWords('pinCue')}
        isOn={tool.name === 'cue'}
        isDisabled={isOff}
        onChange={(isOn) => useDesk.setState({ tool: isOn ? { name: 'cue' } : { name: 'look' } })}
      />
      {view && clip && <MovingTools view={view} clip={clip} />}
      {keepsPlaces && <span className="tool-place" />}
      <span className="bar-rule" />
      <StyleButton />
      <Toggle
        small
        tone="plain"
        icon={showsDrawings ? <Eye size={17} /> : <EyeOff size={17} />}
        label={drawingWords('showDrawings')}
        keys={keysOf('all-drawings')}
        isOn={showsDrawings}
        onChange={(isOn) => useDesk.setState({ showsDrawings: isOn })}
      />
      <Toggle
        small
        tone="plain"
        icon={<FlipHorizontal2 size={17} />}
        label={drawingWords('mirror')}
        keys={keysOf('mirror')}
        isOn={clip?.isMirrored ?? false}
        isDisabled={isOff}
        onChange={toggleMirror}
      />
      {view && view.drawings.length > 0 && <DrawingList view={view} />}
      {clip && <PictureButton clip={clip} />}
      {keepsPlaces && <span className="tool-place" />}
      {view && <SelectedBar view={view} />}
    </div>
  )
}
