import { contextBridge, ipcRenderer, webUtils } from 'electron'
import { drawnInSoftware, type WindowBridge } from '../../shared-core/contract/shell.ts'

const bridge = {
  ask: (name, input) => ipcRenderer.invoke('library', name, input),
  on: (name, listener) => {
    const relay = (_event: unknown, eventName: string, body: unknown) => {
      if (eventName === name) listener(body as never)
    }
    ipcRenderer.on('library-event', relay)
    return () => ipcRenderer.off('library-event', relay)
  },
  pickFiles: (kind) => ipcRenderer.invoke('pick-files', kind),
  pickFolder: () => ipcRenderer.invoke('pick-folder'),
  nextGivenFile: () => ipcRenderer.invoke('next-given-file'),
  onFileGiven: (listener) => void ipcRenderer.on('file-given', () => listener()),
  documentsFolder: () => ipcRenderer.invoke('documents-folder'),
  chooseFfmpeg: () => ipcRenderer.invoke('choose-ffmpeg'),
  showInFolder: (path) => ipcRenderer.invoke('show-in-folder', path),
  openWindow: (lessonId) => ipcRenderer.invoke('open-window', lessonId),
  pathOf: (file) => webUtils.getPathForFile(file as File),
  keepRecording: (bytes, extension) => ipcRenderer.invoke('keep-recording', bytes, extension),
  platform: process.platform,
  isDrawnInSoftware: process.argv.includes(drawnInSoftware),
} satisfies WindowBridge

contextBridge.exposeInMainWorld('leadside', bridge)
