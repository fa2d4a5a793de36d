import { useEffect, useMemo } from 'react'
import type { Motions } from '../../../shared-core/drawing/motion.ts'
import type { Clip } from '../../../shared-core/model/entities.ts'
import { useDesk } from '../../store/desk-store.ts'
import { motionsFrom, readMotion, useFollowed, type ClipMotion } from '../../store/followed.ts'

/** What moves in a clip, read again whenever the lesson changes; null until it was read. */
export const useMotion = (clip: Clip): { motion: ClipMotion | null; motions: Motions | null } => {
  const revision = useDesk((s) => s.opened?.revision)
  const side = useDesk((s) => s.opened?.student.side) ?? 'right'
  const motion = useFollowed((s) => s.clips[clip.id]) ?? null
  useEffect(() => {
    void readMotion(clip.id)
  }, [clip.id, revision])
  const motions = useMemo(
    () => motion && motionsFrom(motion, side, clip.captureRate),
    [motion, side, clip.captureRate],
  )
  return { motion, motions }
}
