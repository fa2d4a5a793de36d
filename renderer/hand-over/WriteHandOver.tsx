import { FolderOpen } from 'lucide-react'
import { useEffect, useState } from 'react'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { closeDialog } from '../store/app-store.ts'
import { sayNews, telling } from '../store/messages.ts'

const sizeText = (bytes: number) => `${(bytes / 1_000_000).toFixed(bytes < 10_000_000 ? 1 : 0)} MB`

/** Where to, and the yes of whoever is filmed if it isn't on record. */
export function WriteHandOver({ lessonId }: { lessonId: string }) {
  const [folder, setFolder] = useState<string | null>(null)
  const [preview, setPreview] = useState<{ estimatedBytes: number; needsConsent: string | null } | null>(null)
  const [said, setSaid] = useState('')
  useEffect(() => {
    void telling(ask('handOver.preview', { lessonId })).then((answer) => {
      if (answer) setPreview(answer)
      else closeDialog()
    })
  }, [lessonId])
  const needsYes = preview?.needsConsent ?? null
  const isReady = folder !== null && preview !== null && (needsYes === null || said.trim() !== '')
  const write = async () => {
    if (!folder) return
    const consentSaidBy = needsYes === null ? null : said.trim()
    const started = await telling(ask('handOver.write', { lessonId, folder, consentSaidBy }))
    if (!started) return
    closeDialog()
    sayNews('Writing the hand-over; you can go on working')
  }
  return (
    <Window
      title="Write the hand-over"
      onClose={closeDialog}
      foot={
        <>
          <Action label="Cancel" onPress={closeDialog} />
          <Action tone="lead" label="Write" isDisabled={!isReady} onPress={() => void write()} />
        </>
      }
    >
      <p>
        A folder and a zip with one page that opens on a phone without a network: the starred swings in slow
        motion with your drawings, the stills, the numbers and your notes.
        {preview && <span className="soft"> About {sizeText(preview.estimatedBytes)}.</span>}
      </p>
      <div className="row">
        <Action
          withLabel
          icon={<FolderOpen size={16} />}
          label={folder ? 'Another folder…' : 'Choose a folder…'}
          onPress={() => void telling(bridge().pickFolder()).then((picked) => picked && setFolder(picked))}
        />
        <span className="soft can-select" style={{ overflowWrap: 'anywhere' }}>
          {folder}
        </span>
      </div>
      {needsYes !== null && (
        <div className="note-box note-box-ask column">
          <p>{needsYes}</p>
          <div className="field">
            <label htmlFor="said-yes">Name of who said yes to this hand-over</label>
            <input
              id="said-yes"
              className="input"
              value={said}
              onChange={(event) => setSaid(event.target.value)}
            />
          </div>
        </div>
      )}
    </Window>
  )
}
