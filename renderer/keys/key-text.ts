import { keyWords } from '../../shared-core/wording/window/keys.ts'

/**
 * Keys are written "Mod+Shift+Z", "ArrowLeft", "?": modifiers in the order Mod, Alt, Shift, then the key as the browser
 * names it, letters in capitals. Mod is Ctrl, on a Mac Command. A character that needs Shift on some keyboards ("?", "+") stands
 * alone, without Shift.
 */
export interface Pressed {
  key: string
  ctrlKey: boolean
  metaKey: boolean
  altKey: boolean
  shiftKey: boolean
  code: string
}

export const keyOf = (event: Pressed, isMac: boolean): string => {
  const mod = isMac ? event.metaKey : event.ctrlKey
  // Digits and letters by their place where Shift or Alt changes what they write.
  const byPlace = /^(?:Digit|Key)([0-9A-Z])$/.exec(event.code)?.[1]
  const isPlain = /^[a-zA-Z0-9]$/.test(event.key)
  const key = isPlain
    ? event.key.toUpperCase()
    : (event.altKey || (event.shiftKey && /^Digit/.test(event.code))) && byPlace
      ? byPlace
      : event.key
  const isSign = key.length === 1 && !/[A-Z0-9 ]/.test(key)
  return [
    mod ? 'Mod' : '',
    event.altKey ? 'Alt' : '',
    event.shiftKey && !isSign ? 'Shift' : '',
    key === ' ' ? 'Space' : key,
  ]
    .filter(Boolean)
    .join('+')
}

const shown: Record<string, string> = {
  ArrowLeft: '←',
  ArrowRight: '→',
  ArrowUp: '↑',
  ArrowDown: '↓',
  PageUp: keyWords('pageUp'),
  PageDown: keyWords('pageDown'),
  Escape: keyWords('esc'),
  Delete: keyWords('del'),
}

/** A key as the coach reads it: "Ctrl+Z", "⌘Z" on a Mac. */
export const keyText = (keys: string, isMac: boolean): string => {
  const parts = keys.split(/\+(?=.)/).map((part) => {
    if (part === 'Mod') return isMac ? '⌘' : keyWords('ctrl')
    if (part === 'Alt') return isMac ? '⌥' : keyWords('alt')
    if (part === 'Shift') return isMac ? '⇧' : keyWords('shift')
    return shown[part] ?? part
  })
  return parts.join(isMac ? '' : '+')
}
