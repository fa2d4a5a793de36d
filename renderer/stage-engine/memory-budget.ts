/** Of the budget, what clips on a Stage have together; the rest is for those that wait to be shown. */
const stageShare = 0.8
/** What each waiting clip has of it. */
const waitingShare = 0.05

/** The memory all clips on a Stage together may use for decoded pictures; shared evenly between them. */
export interface BudgetShare {
  /** Bytes this clip may hold now. */
  bytes(): number
  leave(): void
}

const members = new Set<() => void>()
let totalBytes = 512 * 1024 * 1024

/** Sets the budget of the whole window, in megabytes. */
export const setFrameMemory = (megabytes: number) => {
  totalBytes = megabytes * 1024 * 1024
  for (const tell of members) tell()
}

/** The budget of the whole window, bytes. */
export const frameMemoryBytes = (): number => totalBytes

/** What a clip that waits to be shown may hold, bytes. */
export const waitingClipBytes = (): number => waitingShare * totalBytes

/** Takes part in the budget; `onChange` is called when the share became larger or smaller. */
export const joinBudget = (onChange: () => void): BudgetShare => {
  const tell = () => onChange()
  members.add(tell)
  for (const other of members) if (other !== tell) other()
  return {
    bytes: () => (stageShare * totalBytes) / members.size,
    leave: () => {
      members.delete(tell)
      for (const other of members) other()
    },
  }
}
