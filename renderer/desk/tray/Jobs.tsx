import { RotateCcw, X } from 'lucide-react'
import type { ReactNode } from 'react'
import type { Job } from '../../../shared-core/model/entities.ts'
import { trayWords } from '../../../shared-core/wording/window/tray.ts'
import { Action } from '../../parts/Action.tsx'
import { ask } from '../../store/bridge.ts'
import { useApp } from '../../store/app-store.ts'
import { telling } from '../../store/messages.ts'
import { useShallow } from 'zustand/react/shallow'

function JobHead({ job, children }: { job: Job; children: ReactNode }) {
  return (
    <div className="row">
      <span className="job-label">{job.label}</span>
      <span className="push" />
      {children}
    </div>
  )
}

/** Work under way for this lesson: each clip by name, what happens to it, how far it is; what failed, and why. */
export function Jobs({ lessonId }: { lessonId: string }) {
  const jobs = useApp(
    useShallow((s) =>
      s.jobs.filter((j) => j.lessonId === lessonId && /waiting|running|failed/.test(j.state)),
    ),
  )
  const running = jobs.filter((j) => j.state === 'running')
  const waiting = jobs.filter((j) => j.state === 'waiting')
  const failed = jobs.filter((j) => j.state === 'failed')
  if (jobs.length === 0) return null
  return (
    <div className="jobs" role="region" aria-label={trayWords('jobs')}>
      {running.map((job) => (
        <div key={job.id} className="job">
          <JobHead job={job}>
            <Action
              small
              tone="plain"
              icon={<X size={14} />}
              label={trayWords('cancelJob', { job: job.label })}
              onPress={() => void telling(ask('job.cancel', { id: job.id }))}
            />
          </JobHead>
          <div className="fine soft">{job.step}</div>
          <div
            className="progress"
            role="progressbar"
            aria-label={job.label}
            aria-valuenow={Math.round(job.progress * 100)}
          >
            <div style={{ width: `${job.progress * 100}%` }} />
          </div>
        </div>
      ))}
      {waiting.length > 0 && (
        <div className="fine soft">{trayWords('jobsWaiting', { count: waiting.length })}</div>
      )}
      {failed.map((job) => (
        <div key={job.id} className="job job-failed">
          <JobHead job={job}>
            <Action
              small
              tone="plain"
              icon={<RotateCcw size={14} />}
              label={trayWords('tryJobAgain', { job: job.label })}
              onPress={() => void telling(ask('job.retry', { id: job.id }))}
            />
            <Action
              small
              tone="plain"
              icon={<X size={14} />}
              label={trayWords('putJobAway', { job: job.label })}
              onPress={() => {
                void telling(ask('job.cancel', { id: job.id }))
                useApp.setState(({ jobs: all }) => ({ jobs: all.filter((j) => j.id !== job.id) }))
              }}
            />
          </JobHead>
          <div className="fine can-select">
            {job.problem?.toDo
              ? trayWords('jobFailedToDo', { what: job.problem.what, toDo: job.problem.toDo })
              : (job.problem?.what ?? trayWords('jobFailed'))}
          </div>
        </div>
      ))}
    </div>
  )
}
