import { ArrowLeft } from 'lucide-react'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { goTo } from '../store/app-store.ts'
import { Action } from './Action.tsx'

/** First in a screen's bar. */
export function BackToRoster({ keys }: { keys?: string | undefined }) {
  return (
    <Action
      tone="plain"
      icon={<ArrowLeft size={18} />}
      label={commonWords('roster')}
      keys={keys}
      onPress={() => goTo({ name: 'roster' })}
    />
  )
}
