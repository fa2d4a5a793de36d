import type { OpenLesson, Swing } from '../../../shared-core/model/entities.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { BlockForm } from '../tray/BlockForm.tsx'
import { BlockPlace } from './BlockPlace.tsx'
import { ComparisonTable } from './ComparisonTable.tsx'
import { CuesByBlock } from './CuesByBlock.tsx'
import { FindingsOf } from './Findings.tsx'
import { useSoundReport } from './use-report.ts'

/** The block of the swing on show: against the baseline, where this swing stands in it, what was tagged in it, and what it was about. */
export function BlockFace({ opened, swing }: { opened: OpenLesson; swing: Swing }) {
  const { blockId } = swing
  const report = useSoundReport()
  const blocks = [...opened.blocks].sort((a, b) => a.order - b.order)
  const number = blocks.findIndex((b) => b.id === blockId) + 1
  const block = blocks[number - 1]
  if (!block) return null
  const label = block.name || commonWords('blockNumbered', { number })
  const of = report?.findings.filter((f) => f.topic === 'change' && f.key.split(':')[1] === block.name) ?? []
  return (
    <>
      <section className="ledger-part" aria-label={ledgerWords('blockNumbers')}>
        <div className="ledger-head">
          <h2>{label}</h2>
          <span className="push" />
          {block.isBaseline && <span className="badge">{ledgerWords('baseline')}</span>}
        </div>
        {report && !block.isBaseline && <ComparisonTable report={report} after={block.name} />}
        {block.isBaseline && <p className="fine soft">{ledgerWords('comparedWithBaseline')}</p>}
        <BlockPlace opened={opened} swing={swing} />
        {of.length > 0 && <FindingsOf findings={of} />}
      </section>
      <CuesByBlock opened={opened} only={block.id} />
      <section className="ledger-part" aria-label={ledgerWords('block')}>
        <BlockForm block={block} number={number} />
      </section>
    </>
  )
}
