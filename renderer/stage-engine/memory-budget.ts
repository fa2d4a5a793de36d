/** The memory all open clips together may use for decoded pictures; shared evenly between them. */
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

/** Takes part in the budget; `onChange` is called when the share became larger or smaller. */
export const joinBudget = (onChange: () => void): BudgetShare => {
  const tell = () => onChange()
  members.add(tell)
  for (const other of members) if (other !== tell) other()
  return {
    bytes: () => totalBytes / members.size,
    leave: () => {
      members.delete(tell)
      for (const other of members) other()
    },
  }
}
