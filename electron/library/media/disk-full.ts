import { Problem } from '../../../shared-core/problem.ts'

/** Did it fail for want of room? The system says so by a code, ffmpeg in its own words. */
export const isDiskFull = (error: unknown): boolean =>
  (error as { code?: unknown } | null)?.code === 'ENOSPC' ||
  (error instanceof Problem && /no space left/i.test(error.what))
