import { useEffect } from 'react'
import type { Job } from '../../shared-core/model/entities.ts'
import { useApp } from '../store/app-store.ts'

/** What of this kind is being made for the lesson, failed included; `onDone` is called when another one is done. */
export function useOpenJobs(
  kind: Job['kind'],
  lessonId: string,
  onDone: (lessonId: string) => unknown,
): Job[] {
  const allJobs = useApp((s) => s.jobs)
  const jobs = allJobs.filter((j) => j.kind === kind && j.lessonId === lessonId)
  const doneCount = jobs.filter((j) => j.state === 'done').length
  useEffect(() => {
    if (doneCount > 0) void onDone(lessonId)
  }, [doneCount, lessonId, onDone])
  return jobs.filter((j) => j.state !== 'done' && j.state !== 'cancelled')
}
