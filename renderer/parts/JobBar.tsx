import type { Job } from '../../shared-core/model/entities.ts'
import { ask } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { Action } from './Action.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'

/** Long work under way: what it is, how far it is, and a way to stop it. */
export function JobBar({ job }: { job: Job }) {
  return (
    <div className="roster-job" role="status">
      <div className="row">
        <span>{job.label}</span>
        <span className="soft">{job.step}</span>
        <span className="push" />
        <Action
          small
          tone="plain"
          label={commonWords('stop')}
          onPress={() => void telling(ask('job.cancel', { id: job.id }))}
        />
      </div>
      <div className="progress">
        <div style={{ width: `${job.progress * 100}%` }} />
      </div>
    </div>
  )
}
