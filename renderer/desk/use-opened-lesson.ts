import { useEffect } from 'react'
import { followLesson, openLesson } from '../store/desk-store.ts'
import { followLive } from '../store/live.ts'
import { closeWaitingClips, openWhatIsChosen } from './stage/open-clips.ts'

/** Opens a lesson and follows it for as long as its screen is there. */
export function useOpenedLesson(lessonId: string): void {
  useEffect(() => {
    // First, so that the clip is being opened while the window is still being laid out.
    const off = [openWhatIsChosen(), followLesson(), followLive(lessonId)]
    void openLesson(lessonId)
    return () => {
      for (const end of off) end()
      // After the pictures have given theirs back.
      setTimeout(closeWaitingClips)
    }
  }, [lessonId])
}
