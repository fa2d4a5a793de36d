import { X } from 'lucide-react'
import { Action } from '../parts/Action.tsx'
import { dismiss, useMessages } from '../store/messages.ts'
import { newsWords } from '../../shared-core/wording/window/news.ts'

const sentence = (text: string) => {
  const upper = text.charAt(0).toUpperCase() + text.slice(1)
  return /[.!?…]$/.test(upper) ? upper : `${upper}.`
}

/** What went wrong or is done: what, where, what to do. It waits below and covers no work in hand. */
export function Messages() {
  const list = useMessages((s) => s.list)
  return (
    <div className="messages" role="region" aria-label={newsWords('messages')} aria-live="polite">
      {list.map((message) => (
        <div key={message.id} className={`message message-${message.tone}`}>
          <div className="message-text can-select">
            <div>{sentence(message.what)}</div>
            {message.where && <div className="fine soft">{newsWords('where', { where: message.where })}</div>}
            {message.toDo && <div className="fine">{sentence(message.toDo)}</div>}
          </div>
          {message.action && <Action small label={message.action.label} onPress={message.action.run} />}
          <Action
            small
            tone="plain"
            label={newsWords('dismiss')}
            icon={<X size={15} />}
            onPress={() => dismiss(message.id)}
          />
        </div>
      ))}
    </div>
  )
}
