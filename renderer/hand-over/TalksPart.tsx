import { Trash2 } from 'lucide-react'
import { useEffect, useState } from 'react'
import type { TalkThrough } from '../../shared-core/model/hand-over.ts'
import { keysOf } from '../keys/handle-keys.ts'
import { Action } from '../parts/Action.tsx'
import { Check } from '../parts/Check.tsx'
import { useApp } from '../store/app-store.ts'
import { ask } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { changeDraft, reloadTalks, useComposer } from './composer-store.ts'
import { toggleId } from './draft-edits.ts'
import { Part } from './Part.tsx'

const clock = (seconds: number) => {
  const whole = Math.round(seconds)
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

/** Recorded talk-throughs of this lesson, and what is being made of a recording. */
export function TalksPart({ lessonId }: { lessonId: string }) {
  const talks = useComposer((s) => s.talks)
  const allJobs = useApp((s) => s.jobs)
  const jobs = allJobs.filter((j) => j.kind === 'talk-through' && j.lessonId === lessonId)
  const doneCount = jobs.filter((j) => j.state === 'done').length
  useEffect(() => {
    if (doneCount > 0) void reloadTalks(lessonId)
  }, [doneCount, lessonId])
  const open = jobs.filter((j) => j.state !== 'done' && j.state !== 'cancelled')
  return (
    <Part id="talks" title="Talk-throughs">
      {talks.length === 0 && open.length === 0 && (
        <p className="soft">
          None yet. On the Desk, {keysOf('talk')} opens the recorder: your voice to the pictures, as one clip.
        </p>
      )}
      {open.map((job) =>
        job.state === 'failed' ? (
          <div key={job.id} className="note-box note-box-ask column" role="status">
            <p>
              “{job.label}” could not be made: {job.problem?.what}
              {job.problem?.where && ` (${job.problem.where})`}. {job.problem?.toDo}
            </p>
            <div>
              <Action
                small
                label="Try again"
                onPress={() => void telling(ask('job.retry', { id: job.id }))}
              />
            </div>
          </div>
        ) : (
          <p key={job.id} className="soft" role="status">
            “{job.label}” is being made: {job.step || 'waiting'}
          </p>
        ),
      )}
      <ul className="composer-list">
        {talks.map((talk) => (
          <li key={talk.id} className="composer-card composer-row">
            <TalkEntry talk={talk} />
          </li>
        ))}
      </ul>
    </Part>
  )
}

function TalkEntry({ talk }: { talk: TalkThrough }) {
  const ids = useComposer((s) => s.draft!.talkThroughIds)
  const [asksToDelete, setAsks] = useState(false)
  const name = talk.name || 'Talk-through'
  const choose = (isIn: boolean) =>
    changeDraft((d) => ({ ...d, talkThroughIds: toggleId(d.talkThroughIds, talk.id, isIn) }))
  const remove = async () => {
    if ((await telling(ask('talk.remove', { id: talk.id }))) === null) return
    choose(false)
    await reloadTalks(talk.lessonId)
  }
  return (
    <>
      <div className="row">
        <Check isOn={ids.includes(talk.id)} onChange={choose}>
          {name} <span className="soft fine">{clock(talk.durationSeconds)}</span>
        </Check>
        <span className="push" />
        <Action
          small
          tone="plain"
          icon={<Trash2 size={15} />}
          label={`Delete ${name}`}
          onPress={() => setAsks(true)}
        />
      </div>
      {asksToDelete && (
        <div className="note-box note-box-ask row row-wrap" role="alert">
          <span>Delete this recording for good? Packages already written keep it.</span>
          <Action small tone="wrong" label="Yes, delete it" onPress={() => void remove()} />
          <Action small label="Keep it" onPress={() => setAsks(false)} />
        </div>
      )}
    </>
  )
}
