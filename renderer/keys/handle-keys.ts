import { bridge } from '../store/bridge.ts'
import { useApp } from '../store/app-store.ts'
import { commands } from './commands.ts'
import { keyOf, keyText } from './key-text.ts'

const isMac = () => bridge().platform === 'darwin'

/** A command's first key as the coach reads it, for tooltips and menus. */
export const keysOf = (name: string): string | undefined => {
  const first = commands.find((c) => c.name === name)?.keys[0]
  return first === undefined ? undefined : keyText(first, isMac())
}

/** Where typing means text, keys belong to the field. */
const isTyping = (target: Element | null) =>
  target?.closest('input:not([type=range]):not([type=checkbox]),textarea,select,[contenteditable=true]') !=
  null

/** Controls that use these keys themselves keep them. */
const keepsKey = (target: Element | null, key: string): boolean => {
  if (!target) return false
  if (target.closest('[role=menu],[role=listbox],[role=dialog],[role=alertdialog],.popover')) return true
  // On the flag of the moment in hand, Enter confirms it, as it does everywhere else.
  if (key === 'Enter' && target.closest('.flag.is-selected')) return false
  if (
    /^(Space|Enter)$/.test(key) &&
    target.closest('button,a,[role=button],[role=radio],[role=switch],input')
  ) {
    return true
  }
  const inHand = target.closest<HTMLElement>('[data-in-hand]')?.dataset['inHand']
  if (inHand && /^(Shift\+|Mod\+)?Arrow/.test(key)) return true
  if (inHand === 'tool' && /^(Space|Enter|Backspace)$/.test(key)) return true
  if (/^(Shift\+)?Arrow(Left|Right)$/.test(key) && target.closest('.flag')) return true
  if (/^(Delete|Backspace)$/.test(key) && target.closest('.tray [role=grid]')) return true
  // A point of the body in hand is moved and taken back by its own keys.
  if (/^((Shift\+)?Arrow(Left|Right|Up|Down)|Delete|Backspace)$/.test(key) && target.closest('.joint')) {
    return true
  }
  if (/Arrow|Home|End|Page/.test(key)) {
    if (
      target.closest(
        'input[type=range],[role=slider]:not(.strip-line),[role=radiogroup],[role=tablist],[aria-haspopup=listbox]',
      )
    ) {
      return true
    }
    // Up and down move through the Tray; everything else goes to the picture there, too.
    if (/^(Shift\+|Mod\+)*Arrow(Up|Down)$/.test(key) && target.closest('[role=grid]')) return true
  }
  return false
}

/** Listens for keys on the whole window; returns how to stop. */
export const handleKeys = (): (() => void) => {
  const listen = (event: KeyboardEvent) => {
    const target = event.target instanceof Element ? event.target : null
    const key = keyOf(event, isMac())
    const { dialog, screen } = useApp.getState()
    const isMod = key.startsWith('Mod+')
    if (isTyping(target) && (!isMod || /^Mod\+(Z|Shift\+Z|Y|D|A|C|V|X|B|I)$/.test(key))) return
    if (keepsKey(target, key) && key !== '?') return
    if (dialog && key !== '?') return
    const command = commands.find(
      (c) => c.keys.includes(key) && (c.when === 'anywhere' || c.when === screen.name),
    )
    if (!command) return
    event.preventDefault()
    event.stopPropagation()
    command.run()
  }
  addEventListener('keydown', listen, true)
  return () => removeEventListener('keydown', listen, true)
}
