import { useMemo } from 'react'
import { clubWords } from '../../../shared-core/model/club.ts'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import { cuesByBlock, type BlockAtAGlance } from '../../../shared-core/report/cues-by-block.ts'
import { metricText } from '../../../shared-core/units.ts'
import { cuesWords } from '../../../shared-core/wording/window/cues.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { useDesk } from '../../store/desk-store.ts'

/** What was tagged in each block, beside what was measured in it; whether they go together is a finding's to say. */
export function CuesByBlock({ opened, only }: { opened: OpenLesson; only?: string }) {
  const blocks = useMemo(
    () => cuesByBlock(opened).filter((b) => b.swings > 0 && (only === undefined || b.block.id === only)),
    [opened, only],
  )
  if (blocks.length === 0) return null
  return (
    <section className="ledger-part" aria-label={only ? cuesWords('cuesOfBlock') : cuesWords('cuesByBlock')}>
      <div className="ledger-head">
        <h2>{only ? cuesWords('cues') : cuesWords('cuesByBlock')}</h2>
      </div>
      <table className="cue-table">
        <thead>
          <tr className="fine soft">
            <th scope="col">{cuesWords('cue')}</th>
            <th scope="col">{cuesWords('swings')}</th>
            <th scope="col">{cuesWords('strengthRange')}</th>
          </tr>
        </thead>
        {blocks.map((b) => (
          <BlockRows key={b.block.id} glance={b} opened={opened} />
        ))}
      </table>
      {blocks.some((b) => b.cues.length > 0) && <p className="fine soft">{cuesWords('means')}</p>}
    </section>
  )
}

function BlockRows({ glance, opened }: { glance: BlockAtAGlance; opened: OpenLesson }) {
  const kinds = useDesk((s) => s.cueKinds)
  const { block, number, swings, shots, club, medians, cues } = glance
  const [clubSpeed, ballSpeed, efficiency] = medians.map((m) =>
    metricText(m.metric, m.value, opened.student.units),
  )
  return (
    <tbody>
      <tr className="cue-table-block">
        <th scope="rowgroup" colSpan={3}>
          {block.name || commonWords('blockNumbered', { number })}
          <span className="fine soft cue-table-numbers">
            {shots === 0
              ? cuesWords('noShots')
              : cuesWords('atAGlance', {
                  club: clubWords(club),
                  shots,
                  efficiency: efficiency!,
                  clubSpeed: clubSpeed!,
                  ballSpeed: ballSpeed!,
                })}
          </span>
        </th>
      </tr>
      {cues.length === 0 && (
        <tr>
          <td colSpan={3} className="fine soft">
            {cuesWords('none')}
          </td>
        </tr>
      )}
      {cues.map((cue) => {
        const label = kinds.find((k) => k.key === cue.kind)?.label ?? cue.kind
        const isFocus = block.focus.trim().toLowerCase() === label.toLowerCase()
        return (
          <tr key={cue.kind}>
            <th scope="row">
              {label}
              {isFocus && <span className="badge badge-lead">{cuesWords('focus')}</span>}
            </th>
            <td>{commonWords('countOf', { count: cue.swings, all: swings })}</td>
            <td>{cue.meanStrength.toFixed(1)}</td>
          </tr>
        )
      })}
    </tbody>
  )
}
