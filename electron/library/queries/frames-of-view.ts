import { Problem } from '../../../shared-core/problem.ts'
import type { Db } from '../database/open.ts'
import { viewAndClip } from './placed-on-view.ts'

/** How many frames a view's clip has. @throws Problem `gone` */
export const frameCountOf = (db: Db, viewId: string): number => viewAndClip(db, viewId).frames

/** @throws Problem `no-frame`, where the view's clip does not reach that far */
export const checkFrame = (db: Db, viewId: string, frame: number) => {
  const frames = frameCountOf(db, viewId)
  if (frame >= frames) throw new Problem('no-frame.clip', { last: frames - 1, frame })
}
