import { useEffect, useState } from 'react'
import type { CallInput, CallOutput } from '../../shared-core/contract/index.ts'
import { sizeText } from '../hand-over/view-words.ts'
import { Check } from '../parts/Check.tsx'
import { ask } from '../store/bridge.ts'
import { sayNews, telling } from '../store/messages.ts'
import { rosterWords } from '../../shared-core/wording/window/roster.ts'

type Look = CallOutput<'deletion.look'>
export type Receipt = CallOutput<'student.deleteForGood'>

const writtenWords = ({ packages, lessonFiles }: Look): string => {
  const [handOvers, files] = [packages, lessonFiles].map((list) => list.filter((l) => l.isThere).length)
  const written = rosterWords('writtenHandOvers', { handOvers: handOvers! })
  const forColleagues = rosterWords('lessonFiles', { files: files! })
  if (handOvers! > 0 && files! > 0) return rosterWords('both', { written, forColleagues })
  return handOvers! > 0 ? written : files! > 0 ? forColleagues : ''
}

/** What a deletion takes away, what it can take along, and what it can't reach. */
export function DeletionFacts(props: {
  of: CallInput<'deletion.look'>
  withPackages: boolean
  onWithPackages: (withPackages: boolean) => void
}) {
  const [look, setLook] = useState<Look | null>(null)
  const key = JSON.stringify(props.of)
  useEffect(() => {
    void telling(ask('deletion.look', JSON.parse(key) as CallInput<'deletion.look'>)).then(setLook)
  }, [key])
  if (!look) return null
  const there = [
    ...look.packages.filter((p) => p.isThere).map((p) => p.folder),
    ...look.lessonFiles.filter((f) => f.isThere).map((f) => f.file),
  ]
  const clips =
    look.clips > 0 ? rosterWords('clipsAndSize', { clips: look.clips, size: sizeText(look.bytes) }) : ''
  const copies = look.copies.length > 0 ? rosterWords('alsoInCopies', { copies: look.copies.length }) : ''
  return (
    <>
      <p>{rosterWords('deletedFromLibrary', { lessons: look.lessons, clips, copies })}</p>
      {there.length > 0 && (
        <div className="column">
          <Check isOn={props.withPackages} onChange={props.onWithPackages}>
            {rosterWords('alsoDeleteWritten', { written: writtenWords(look) })}
          </Check>
          <ul className="fine soft can-select" style={{ overflowWrap: 'anywhere' }}>
            {there.slice(0, 5).map((where) => (
              <li key={where}>{where}</li>
            ))}
            {there.length > 5 && <li>{rosterWords('andMore', { more: there.length - 5 })}</li>}
          </ul>
        </div>
      )}
      <p className="soft">{rosterWords('cantReach')}</p>
    </>
  )
}

/** Says what was deleted; what is left somewhere stays on the screen until it is read. */
export const sayReceipt = (name: string, receipt: Receipt) => {
  const packages = receipt.packagesDeleted
    ? rosterWords('andWritten', { written: receipt.packagesDeleted })
    : ''
  const places = receipt.stays.map(({ where, why }) => `${where}: ${why}`).join('; ')
  const stays = places && rosterWords('stillThere', { places })
  sayNews(rosterWords('deleted', { name, files: receipt.filesDeleted, packages, stays }))
}
