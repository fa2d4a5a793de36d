import type { LiveState } from '../../shared-core/model/live.ts'
import { liveWords } from '../../shared-core/wording/window/live.ts'

const maxNamed = 4

/** What a live lesson can't reach just now, and which files it waits for. */
export function LiveTroubles({ state }: { state: LiveState }) {
  const { clipsProblem, shotsProblem, waiting } = state
  const problems = [clipsProblem, shotsProblem].filter((p) => p !== null)
  return (
    <>
      {problems.map((problem) => (
        <p key={problem} className="live-problem">
          {problem}. {/is not there|in use|may not be read/.test(problem) && liveWords('goesOn')}
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
