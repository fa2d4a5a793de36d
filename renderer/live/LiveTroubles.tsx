import type { LiveState } from '../../shared-core/model/live.ts'
import { liveWords } from '../../shared-core/wording/window/live.ts'

const maxNamed = 4

/** What a live lesson can't reach just now, and which files it waits for. */
export function LiveTroubles({ state }: { state: LiveState }) {
  const { clipsProblem, clipsGoOn, shotsProblem, shotsGoOn, waiting } = state
  const problems = [
    { problem: clipsProblem, goesOn: clipsGoOn },
    { problem: shotsProblem, goesOn: shotsGoOn },
  ].filter(({ problem }) => problem !== null)
  return (
    <>
      {problems.map(({ problem, goesOn }) => (
        <p key={problem} className="live-problem">
          {problem}. {goesOn && liveWords('goesOn')}
        </p>
      ))}
      {waiting.length > 0 && (
        <ul className="live-waiting fine soft">
          {waiting.slice(0, maxNamed).map(({ name, why }) => (
            <li key={name}>
              {name} {why}
            </li>
          ))}
          {waiting.length > maxNamed && (
            <li>{liveWords('andMore', { waiting: waiting.length - maxNamed })}</li>
          )}
        </ul>
      )}
    </>
  )
}
