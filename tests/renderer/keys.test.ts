import { describe, expect, test } from 'vitest'
import { clashes, commands, type Command } from '../../renderer/keys/commands.ts'
import { keyOf, keyText } from '../../renderer/keys/key-text.ts'

const pressed = (
  key: string,
  code: string,
  held: Partial<Record<'ctrl' | 'alt' | 'shift' | 'meta', true>> = {},
) => ({
  key,
  code,
  ctrlKey: held.ctrl ?? false,
  altKey: held.alt ?? false,
  shiftKey: held.shift ?? false,
  metaKey: held.meta ?? false,
})

describe('the list of commands', () => {
  test('no two commands want the same key in the same place', () => {
    expect(clashes(commands)).toEqual([])
  })

  test('a clash is found, also between a command of everywhere and one of the Desk', () => {
    const make = (name: string, when: Command['when'], keys: string[]): Command => ({
      name,
      label: name,
      group: '',
      when,
      keys,
      run: () => {},
    })
    const list = [make('a', 'anywhere', ['K']), make('b', 'desk', ['J', 'K']), make('c', 'desk', ['L'])]
    expect(clashes(list)).toEqual([{ key: 'K', first: 'a', second: 'b' }])
  })

  test('every command has a name of its own, words and a key', () => {
    expect(new Set(commands.map((c) => c.name)).size).toBe(commands.length)
    for (const command of commands) {
      expect(command.label, command.name).not.toBe('')
      expect(command.keys.length, command.name).toBeGreaterThan(0)
    }
  })
})

describe('keys as they are pressed', () => {
  test('letters count without regard to capitals, modifiers come first', () => {
    expect(keyOf(pressed('z', 'KeyZ', { ctrl: true }), false)).toBe('Mod+Z')
    expect(keyOf(pressed('Z', 'KeyZ', { ctrl: true, shift: true }), false)).toBe('Mod+Shift+Z')
    expect(keyOf(pressed('z', 'KeyZ', { meta: true }), true)).toBe('Mod+Z')
    expect(keyOf(pressed('ArrowLeft', 'ArrowLeft', { shift: true }), false)).toBe('Shift+ArrowLeft')
  })

  test('a sign stands alone, whatever keyboard it takes Shift on', () => {
    expect(keyOf(pressed('?', 'Slash', { shift: true }), false)).toBe('?')
    expect(keyOf(pressed('+', 'BracketRight'), false)).toBe('+')
  })

  test('a digit with Alt is that digit where Alt would write another sign', () => {
    expect(keyOf(pressed('¡', 'Digit1', { alt: true }), true)).toBe('Alt+1')
  })

  test('every command can be pressed: its key, made into a press, is read as that key', () => {
    for (const key of commands.flatMap((c) => c.keys)) {
      const parts = key.split(/\+(?=.)/)
      const last = parts.at(-1)!
      const code = /^[A-Z]$/.test(last) ? `Key${last}` : /^\d$/.test(last) ? `Digit${last}` : last
      const event = pressed(last === 'Space' ? ' ' : last, code, {
        ...(parts.includes('Mod') ? { ctrl: true } : {}),
        ...(parts.includes('Alt') ? { alt: true } : {}),
        ...(parts.includes('Shift') ? { shift: true } : {}),
      })
      expect(keyOf(event, false)).toBe(key)
    }
  })

  test('keys are shown as the machine names them', () => {
    expect(keyText('Mod+Shift+Z', false)).toBe('Ctrl+Shift+Z')
    expect(keyText('Mod+Z', true)).toBe('⌘Z')
    expect(keyText('+', false)).toBe('+')
    expect(keyText('Shift+ArrowLeft', false)).toBe('Shift+←')
  })
})
