import { create } from 'zustand'
import { Problem } from '../../shared-core/problem.ts'
import { newsWords } from '../../shared-core/wording/window/news.ts'

export interface Message {
  id: number
  tone: 'news' | 'problem'
  what: string
  where: string | null
  toDo: string | null
  /** Offered as a button. */
  action?: { label: string; run: () => void }
}

interface Messages {
  list: Message[]
}

let lastId = 0
export const useMessages = create<Messages>(() => ({ list: [] }))

const put = (message: Omit<Message, 'id'>) => {
  lastId += 1
  const id = lastId
  useMessages.setState(({ list }) => ({
    // The same thing said twice is said once.
    list: [
      ...list.filter((m) => m.what !== message.what || m.where !== message.where),
      { ...message, id },
    ].slice(-4),
  }))
  if (message.tone === 'news') setTimeout(() => dismiss(id), 6000)
}

export const dismiss = (id: number) =>
  useMessages.setState(({ list }) => ({ list: list.filter((m) => m.id !== id) }))

/** Says that something is done. */
export const sayNews = (what: string, action?: Message['action']) =>
  put({ tone: 'news', what, where: null, toDo: null, ...(action ? { action } : {}) })

/** Shows what went wrong; it stays until the coach dismisses it. */
export const sayProblem = (error: unknown) => {
  if (error instanceof Problem) {
    put({ tone: 'problem', what: error.what, where: error.where, toDo: error.toDo })
  } else {
    console.error(error)
    put({
      tone: 'problem',
      what: error instanceof Error ? error.message : String(error),
      where: null,
      toDo: newsWords('everyEditIsKept'),
    })
  }
}

/** Runs something that may fail; null if it did, and the coach has been told. */
export const telling = async <T>(work: Promise<T> | (() => Promise<T>)): Promise<T | null> => {
  try {
    return await (typeof work === 'function' ? work() : work)
  } catch (error) {
    sayProblem(error)
    return null
  }
}
