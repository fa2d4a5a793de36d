import { Fragment, type ReactNode } from 'react'
import type { PlacesOf } from '../../shared-core/wording/message.ts'
import type { Messages, WindowWords } from '../../shared-core/wording/window/window-words.ts'

/** A message of the window, places of which hold elements: a key, a name in bold, a button. */
export const nodes = <M extends Messages, K extends keyof M & string>(
  words: WindowWords<M>,
  key: K,
  values: Readonly<Record<PlacesOf<M[K]>, ReactNode>>,
): ReactNode => words.parts<K, ReactNode>(key, values).map((part, i) => <Fragment key={i}>{part}</Fragment>)
