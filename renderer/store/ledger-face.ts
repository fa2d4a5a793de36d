import { create } from 'zustand'
import type { LedgerFace } from '../../shared-core/model/hand-over.ts'
import { saveSettings, useApp } from './app-store.ts'
import { useDesk } from './desk-store.ts'

/** Which of the Ledger's three questions this window answers; null until one was chosen here, then the last chosen anywhere. */
const useChosen = create<{ face: LedgerFace | null }>(() => ({ face: null }))

export const useLedgerFace = (): LedgerFace => {
  const chosen = useChosen((s) => s.face)
  const remembered = useApp((s) => s.settings.ledgerFace)
  return chosen ?? remembered
}

/** Turns the Ledger to one of its faces, opens it if it is away, and remembers it for the next start. */
export const showLedgerFace = (face: LedgerFace) => {
  useChosen.setState({ face })
  useDesk.setState({ ledgerOpen: true })
  if (useApp.getState().settings.ledgerFace !== face) void saveSettings({ ledgerFace: face })
}
