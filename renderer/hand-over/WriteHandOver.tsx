import { FolderOpen } from 'lucide-react'
import { useEffect, useState } from 'react'
import { Problem } from '../../shared-core/problem.ts'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import type { HandOverDraft } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { Choice } from '../parts/Choice.tsx'
import { problemPlaces } from '../parts/problem-places.ts'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { closeDialog } from '../store/app-store.ts'
import { useDesk } from '../store/desk-store.ts'
import { telling } from '../store/messages.ts'
import { changeDraft, saveNow, useComposer } from './composer-store.ts'
import { changeSwing, toggleId } from './draft-edits.ts'
import { heights } from './OptionsPart.tsx'
import { placedViews, sizeText } from './view-words.ts'
import { startWriting, usualFolder } from './write-now.ts'
import { capital } from '../parts/capital.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { writeWords } from '../../shared-core/wording/window/write-hand-over.ts'

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

const lessonNow = (lessonId: string): Promise<OpenLesson> => {
  const { lessonId: open, opened } = useDesk.getState()
  return open === lessonId && opened ? Promise.resolve(opened) : ask('lesson.open', { lessonId })
}

interface ClipChoice {
  /** A view's, or a comparison's. */
  id: string
  isComparison: boolean
  title: string
}

/** Everything that could go along as a clip, in the order of the package. */
const clipChoices = (draft: HandOverDraft, lesson: OpenLesson): ClipChoice[] => {
  const views = new Map(placedViews(lesson).map((p) => [p.view.id, p]))
  return [
    ...draft.swings.map((swing) => {
      const placed = views.get(swing.viewId)
      const title = [placed?.title, placed?.detail].filter(Boolean).join(' · ')
      return { id: swing.viewId, isComparison: false, title: title || writeWords('swingGone') }
    }),
    ...draft.comparisonIds.flatMap((id) => {
      const comparison = lesson.comparisons.find((c) => c.id === id)
      return comparison
        ? [{ id, isComparison: true, title: comparison.name || commonWords('beforeAndAfter') }]
        : []
    }),
  ]
}

const isIn = (draft: HandOverDraft, { id, isComparison }: ClipChoice): boolean =>
  isComparison
    ? draft.comparisonIds.includes(id)
    : draft.swings.some((swing) => swing.viewId === id && swing.withClip)

const withChoice = (
  draft: HandOverDraft,
  { id, isComparison }: ClipChoice,
  goesIn: boolean,
): HandOverDraft =>
  isComparison
    ? { ...draft, comparisonIds: toggleId(draft.comparisonIds, id, goesIn) }
    : changeSwing(draft, id, { withClip: goesIn })

/** Where to, how large, and the yes of whoever is filmed if it isn't on record. */
export function WriteHandOver({ lessonId }: { lessonId: string }) {
  const [folder, setFolder] = useState<string | null>(null)
  const [draft, setDraft] = useState<HandOverDraft | null>(null)
  const [lesson, setLesson] = useState<OpenLesson | null>(null)
  const [choices, setChoices] = useState<ClipChoice[]>([])
  const [preview, setPreview] = useState<CallOutput<'handOver.preview'> | null>(null)
  const [clipBytes, setClipBytes] = useState<ReadonlyMap<string, number>>(new Map())
  const [problem, setProblem] = useState<Problem | null>(null)
  const [said, setSaid] = useState('')
  const [isYes, setYes] = useState(false)
  const [look, setLook] = useState(1)
  /** Known before the sizes are: what writing has to ask. */
  const [asked, setAsked] = useState<string | null | undefined>(undefined)
  useEffect(() => {
    let isStill = true
    void usualFolder().then((usual) => isStill && setFolder((chosen) => chosen ?? usual))
    return () => {
      isStill = false
    }
  }, [])
  useEffect(() => {
    let isStill = true
    Promise.all([draftNow(lessonId), lessonNow(lessonId)])
      .then(async ([now, opened]) => {
        if (isStill) {
          setDraft(now)
          setLesson(opened)
          // What is taken out here can be taken in again as long as the window is open.
          setChoices((known) => (known.length > 0 ? known : clipChoices(now, opened)))
        }
        const quick = await ask('handOver.preview', { lessonId, isQuick: true })
        if (!isStill) return
        setAsked(quick.needsConsent)
        const answer = await ask('handOver.preview', { lessonId })
        if (!isStill) return
        setPreview(answer)
        setClipBytes((known) => new Map([...known, ...answer.clips.map((c) => [c.id, c.bytes] as const)]))
        setProblem(null)
      })
      .catch((error: Error) => {
        if (isStill) {
          setProblem(error instanceof Problem ? error : new Problem('preview', { reason: error.message }))
        }
      })
    return () => {
      isStill = false
    }
  }, [lessonId, look])
  const needsYes = preview?.needsConsent ?? asked ?? null
  const isReady =
    folder !== null && asked !== undefined && (needsYes === null || (isYes && said.trim() !== ''))
  const clipCount = choices.filter((c) => draft && isIn(draft, c)).length
  const isMinor = lesson?.student.isMinor ?? false

  const write = async () => {
    if (!folder) return
    const consentSaidBy =
      needsYes === null ? null : isMinor ? writeWords('byGuardian', { name: said.trim() }) : said.trim()
    if (await startWriting(lessonId, folder, consentSaidBy)) closeDialog()
  }
  const change = async (next: HandOverDraft) => {
    setDraft(next)
    await telling(keepDraft(next))
    setLook((n) => n + 1)
  }
  return (
    <Window
      title={commonWords('writeHandOver')}
      onClose={closeDialog}
      foot={
        <>
          <Action label={commonWords('cancel')} onPress={closeDialog} />
          <Action
            tone="lead"
            label={writeWords('write')}
            isDisabled={!isReady}
            onPress={() => void write()}
          />
        </>
      }
    >
      <p>{writeWords('whatIsWritten')}</p>
      <div className="row row-wrap write-size">
        <span role="status">
          {preview ? (
            <>
              <strong>
                {writeWords('about', { estimatedBytes: sizeText(preview.estimatedBytes ?? 0) })}
              </strong>
              <span className="soft"> {writeWords('withClips', { clips: clipCount })}</span>
            </>
          ) : (
            <span className="soft">{problem ? writeWords('sizeNotKnown') : writeWords('findingSize')}</span>
          )}
        </span>
        {draft && clipCount > 0 && (
          <Choice
            small
            label={commonWords('clipSize')}
            value={`${draft.maxHeight}`}
            options={heights}
            onChange={(value) => void change({ ...draft, maxHeight: value === '720' ? 720 : 1080 })}
          />
        )}
      </div>
      {draft && choices.length > 0 && (
        <ul className="write-clips" aria-label={writeWords('clips')}>
          {choices.map((choice) => (
            <li key={choice.id} className="row">
              <Check
                isOn={isIn(draft, choice)}
                onChange={(goesIn) => void change(withChoice(draft, choice, goesIn))}
              >
                {choice.title}
              </Check>
              <span className="push soft fine write-clip-size">
                {clipBytes.has(choice.id) ? sizeText(clipBytes.get(choice.id)!) : ''}
              </span>
            </li>
          ))}
        </ul>
      )}
      {problem && (
        <div className="note-box note-box-ask column" role="alert">
          <p>{writeWords('cantBeWritten', problemPlaces(problem))}</p>
          <div>
            <Action small label={commonWords('tryAgain')} onPress={() => setLook(look + 1)} />
          </div>
        </div>
      )}
      <div className="row">
        <Action
          withLabel
          icon={<FolderOpen size={16} />}
          label={writeWords('anotherFolder')}
          onPress={() => void telling(bridge().pickFolder()).then((picked) => picked && setFolder(picked))}
        />
        <span className="soft can-select" style={{ overflowWrap: 'anywhere' }}>
          {folder}
        </span>
      </div>
      {preview?.covers && needsYes === null && (
        <div
          className={`note-box ${preview.covers.uncovered > preview.covers.empty ? 'note-box-ask' : ''}`}
          role="status"
        >
          {preview.covers.sentence}
        </div>
      )}
      {needsYes !== null && (
        <div className="note-box note-box-ask column">
          <p>{capital(needsYes)}.</p>
          <Check isOn={isYes} onChange={setYes}>
            {writeWords('saidYes', {
              who: isMinor ? writeWords('guardian') : (lesson?.student.name ?? writeWords('student')),
            })}
          </Check>
          <div className="field">
            <label htmlFor="said-yes">{writeWords(isMinor ? 'nameOfGuardian' : 'nameOfWhoSaidYes')}</label>
            <input
              id="said-yes"
              className="input"
              maxLength={180}
              value={said}
              onChange={(event) => setSaid(event.target.value)}
            />
          </div>
        </div>
      )}
    </Window>
  )
}
