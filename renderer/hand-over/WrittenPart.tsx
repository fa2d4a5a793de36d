import { FolderOpen } from 'lucide-react'
import type { Job } from '../../shared-core/model/entities.ts'
import { Action } from '../parts/Action.tsx'
import { problemPlaces } from '../parts/problem-places.ts'
import { ask, bridge } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { reloadWritten, useComposer } from './composer-store.ts'
import { Part } from './Part.tsx'
import { useOpenJobs } from './use-open-jobs.ts'
import { sizeText } from './view-words.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

const whenText = (at: string) =>
  new Date(at).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' })

/** Packages already written; each stays as it was sent. What is being written now stands above them. */
export function WrittenPart({ lessonId }: { lessonId: string }) {
  const written = useComposer((s) => s.written)
  const open = useOpenJobs('hand-over', lessonId, reloadWritten)
  return (
    <Part id="written" title={handOverWords('writtenSoFar')}>
      {open.map((job) => (
        <WritingNow key={job.id} job={job} />
      ))}
      {written.length === 0 && open.length === 0 && <p className="soft">{handOverWords('nothingWritten')}</p>}
      <ul className="composer-list">
        {written.map((record) => (
          <li key={record.id} className="composer-card composer-row">
            <div className="row row-wrap">
              <strong>{whenText(record.writtenAt)}</strong>
              <span className="soft">{sizeText(record.byteLength)}</span>
              <span className="push" />
              <Action
                small
                withLabel
                icon={<FolderOpen size={14} />}
                label={handOverWords('showInFolder')}
                onPress={() => void telling(bridge().showInFolder(record.folder))}
              />
            </div>
            <p className="soft fine can-select written-path">{record.folder}</p>
            {record.consentSaidBy && (
              <p className="soft fine">
                {handOverWords('withoutRecordedConsent', { consentSaidBy: record.consentSaidBy })}
              </p>
            )}
            {record.remarks.map((remark) => (
              <p key={remark} className="note-box note-box-ask fine">
                {remark}.
              </p>
            ))}
          </li>
        ))}
      </ul>
    </Part>
  )
}

function WritingNow({ job }: { job: Job }) {
  const percent = Math.round(job.progress * 100)
  if (job.state === 'failed') {
    return (
      <div className="note-box note-box-ask column" role="status">
        <p>{handOverWords('writingFailed', problemPlaces(job.problem))}</p>
        <div>
          <Action
            small
            label={commonWords('tryAgain')}
            onPress={() => void telling(ask('job.retry', { id: job.id }))}
          />
        </div>
      </div>
    )
  }
  return (
    <div className="composer-card composer-row" role="status">
      <div className="row">
        <span>{handOverWords('beingWritten', { step: job.step || handOverWords('waiting') })}</span>
        <span className="push soft fine">{percent} %</span>
        <Action
          small
          label={commonWords('cancel')}
          onPress={() => void telling(ask('job.cancel', { id: job.id }))}
        />
      </div>
      <div
        className="progress"
        role="progressbar"
        aria-label={handOverWords('writing')}
        aria-valuenow={percent}
      >
        <div style={{ width: `${percent}%` }} />
      </div>
    </div>
  )
}
