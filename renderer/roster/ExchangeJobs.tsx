import { JobBar } from '../parts/JobBar.tsx'
import { useApp } from '../store/app-store.ts'

const isExchange = (kind: string) => kind === 'give-lesson' || kind === 'take-lesson'

/** Lesson files that are being written or taken in just now. */
export function ExchangeJobs() {
  const jobs = useApp((s) => s.jobs)
  return jobs
    .filter((j) => isExchange(j.kind) && (j.state === 'waiting' || j.state === 'running'))
    .map((job) => <JobBar key={job.id} job={job} />)
}
