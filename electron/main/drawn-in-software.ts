import { setTimeout } from 'node:timers/promises'
import { app } from 'electron'

/** PCI vendors of what is no graphics card: none, the basic renderer of Windows, the browser's own in software. */
const notCards = [0, 0x1414, 0x1ae0]

interface GpuInfo {
  gpuDevice?: { vendorId: number }[]
}

/**
 * True where no graphics card draws the windows. Asked of the browser's list of devices: drawing something to find out
 * would hold up the first window by a second just where it is slow. Without an answer soon, true: right on every machine.
 */
export const isDrawnInSoftware = async (): Promise<boolean> => {
  if (app.getGPUFeatureStatus().gpu_compositing !== 'enabled') return true
  const info = await Promise.race([
    (app.getGPUInfo('basic') as Promise<GpuInfo>).catch(() => null),
    setTimeout(200, null, { ref: false }),
  ])
  return !info?.gpuDevice?.some(({ vendorId }) => !notCards.includes(vendorId))
}
