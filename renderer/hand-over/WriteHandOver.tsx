import { FolderOpen } from 'lucide-react'
import { useEffect, useState } from 'react'
import { Problem } from '../../shared-core/problem.ts'
import type { HandOverDraft } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { Choice } from '../parts/Choice.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { closeDialog } from '../store/app-store.ts'
import { sayNews, telling } from '../store/messages.ts'
import { changeDraft, saveNow, useComposer } from './composer-store.ts'
import { heights } from './OptionsPart.tsx'
import { sizeText } from './view-words.ts'

/** The draft as it is now: the composer's if it is open on this lesson, else the library's. */
const draftNow = (lessonId: string) => {
  const { draft } = useComposer.getState()
  return draft?.lessonId === lessonId ? Promise.resolve(draft) : ask('handOver.draft', { lessonId })
}

const keepDraft = async (next: HandOverDraft) => {
  if (useComposer.getState().draft?.lessonId !== next.lessonId) await ask('handOver.saveDraft', next)
  else {
    changeDraft(() => next)
    await saveNow()
  }
}

/** Where to, how large, and the yes of whoever is filmed if it isn't on record. */
export function WriteHandOver({ lessonId }: { lessonId: string }) {
  const [folder, setFolder] = useState<string | null>(null)
  const [draft, setDraft] = useState<HandOverDraft | null>(null)
  const [preview, setPreview] = useState<{ estimatedBytes: number; needsConsent: string | null } | null>(null)
  const [problem, setProblem] = useState<Problem | null>(null)
  const [said, setSaid] = useState('')
  const [look, setLook] = useState(1)
  useEffect(() => {
    let isStill = true
    draftNow(lessonId)
      .then(async (now) => {
        if (isStill) setDraft(now)
        const answer = await ask('handOver.preview', { lessonId })
        if (!isStill) return
        setPreview(answer)
        setProblem(null)
      })
      .catch((error: Error) => {
        if (isStill) setProblem(error instanceof Problem ? error : new Problem('preview', error.message))
      })
    return () => {
      isStill = false
    }
  }, [lessonId, look])
  const needsYes = preview?.needsConsent ?? null
  const isReady = folder !== null && preview !== null && (needsYes === null || said.trim() !== '')
  const clipCount = draft ? draft.swings.filter((s) => s.withClip).length + draft.comparisonIds.length : 0

  const write = async () => {
    if (!folder) return
    const consentSaidBy = needsYes === null ? null : said.trim()
    const started = await telling(ask('handOver.write', { lessonId, folder, consentSaidBy }))
    if (!started) return
    closeDialog()
    sayNews('Writing the hand-over; you can go on working')
  }
  const resize = async (maxHeight: 1080 | 720) => {
    if (!draft) return
    await telling(keepDraft({ ...draft, maxHeight }))
    setPreview(null)
    setLook(look + 1)
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
        A folder and a zip with one page that opens on a phone without a network: the swings chosen in slow
        motion with your drawings, the stills, the numbers, the practice plan and your words.
      </p>
      <div className="row row-wrap write-size">
        <span role="status">
          {preview ? (
            <>
              <strong>About {sizeText(preview.estimatedBytes)}</strong>
              <span className="soft">
                {' '}
                with {clipCount} {clipCount === 1 ? 'clip' : 'clips'}
              </span>
            </>
          ) : (
            <span className="soft">{problem ? 'Size not known' : 'Finding the size…'}</span>
          )}
        </span>
        {draft && clipCount > 0 && (
          <Choice
            small
            label="Size of the clips"
            value={`${draft.maxHeight}`}
            options={heights}
            onChange={(value) => void resize(value === '720' ? 720 : 1080)}
          />
        )}
      </div>
      {problem && (
        <div className="note-box note-box-ask column" role="alert">
          <p>
            It can’t be written yet: {problem.what}
            {problem.where && ` (${problem.where})`}. {problem.toDo}
          </p>
          <div>
            <Action small label="Try again" onPress={() => setLook(look + 1)} />
          </div>
        </div>
      )}
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
          <p>{needsYes}.</p>
          <div className="field">
            <label htmlFor="said-yes">Name of who said yes to this hand-over; it is recorded with it</label>
            <input
              id="said-yes"
              className="input"
              maxLength={200}
              value={said}
              onChange={(event) => setSaid(event.target.value)}
            />
          </div>
        </div>
      )}
    </Window>
  )
}
