import { Action } from '../parts/Action.tsx'
import { ask } from '../store/bridge.ts'
import { useApp } from '../store/app-store.ts'
import { telling } from '../store/messages.ts'

const isExchange = (kind: string) => kind === 'give-lesson' || kind === 'take-lesson'

/** Lesson files that are being written or taken in just now. */
export function ExchangeJobs() {
  const jobs = useApp((s) => s.jobs)
  return jobs
    .filter((j) => isExchange(j.kind) && (j.state === 'waiting' || j.state === 'running'))
    .map((job) => (
      <div key={job.id} className="roster-job" role="status">
        <div className="row">
          <span>{job.label}</span>
          <span className="soft">{job.step}</span>
          <span className="push" />
          <Action
            small
            tone="plain"
            label="Stop"
            onPress={() => void telling(ask('job.cancel', { id: job.id }))}
          />
        </div>
        <div className="progress">
          <div style={{ width: `${job.progress * 100}%` }} />
        </div>
      </div>
    ))
}
