import { useEffect, useState } from 'react'
import type { CallInput, CallOutput } from '../../shared-core/contract/index.ts'
import { sizeText } from '../hand-over/view-words.ts'
import { Check } from '../parts/Check.tsx'
import { ask } from '../store/bridge.ts'
import { sayNews, telling } from '../store/messages.ts'

type Look = CallOutput<'deletion.look'>
export type Receipt = CallOutput<'student.deleteForGood'>

const many = (count: number, one: string, more = `${one}s`) => `${count} ${count === 1 ? one : more}`

const writtenWords = ({ packages, lessonFiles }: Look): string => {
  const [handOvers, files] = [packages, lessonFiles].map((list) => list.filter((l) => l.isThere).length)
  return [
    handOvers! > 0 && `${many(handOvers!, 'written hand-over')} (folder and zip)`,
    files! > 0 && many(files!, 'lesson file for a colleague', 'lesson files for colleagues'),
  ]
    .filter(Boolean)
    .join(' and ')
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
  const clips = look.clips > 0 ? ` (${many(look.clips, 'clip')}, ${sizeText(look.bytes)})` : ''
  return (
    <>
      <p>
        Deleted from this library: {many(look.lessons, 'lesson')}
        {clips} with all numbers, drawings, notes, talk-throughs and what an undo could bring back
        {look.copies.length > 0 &&
          `, also in ${many(look.copies.length, 'copy of the library', 'copies of the library')} inside its folder`}
        . This cannot be undone.
      </p>
      {there.length > 0 && (
        <div className="column">
          <Check isOn={props.withPackages} onChange={props.onWithPackages}>
            Also delete {writtenWords(look)} on this computer
          </Check>
          <ul className="fine soft can-select" style={{ overflowWrap: 'anywhere' }}>
            {there.slice(0, 5).map((where) => (
              <li key={where}>{where}</li>
            ))}
            {there.length > 5 && <li>and {there.length - 5} more</li>}
          </ul>
        </div>
      )}
      <p className="soft">
        It can’t reach what is elsewhere: hand-overs and lesson files that were sent, films on cameras and
        phones, your own copies of this folder.
      </p>
    </>
  )
}

/** Says what was deleted; what is left somewhere stays on the screen until it is read. */
export const sayReceipt = (name: string, receipt: Receipt) => {
  const packages = receipt.packagesDeleted
    ? ` and ${many(receipt.packagesDeleted, 'file or folder that was written', 'files and folders that were written')}`
    : ''
  const stays = receipt.stays.map(({ where, why }) => `${where}: ${why}`).join('; ')
  sayNews(
    `${name} was deleted, with ${many(receipt.filesDeleted, 'file')}${packages}${stays && `. Still there: ${stays}`}`,
  )
}
