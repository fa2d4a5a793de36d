import { useEffect, useState } from 'react'
import type { CallOutput } from '../../shared-core/contract/index.ts'
import { JobBar } from '../parts/JobBar.tsx'
import { Action } from '../parts/Action.tsx'
import { Window } from '../parts/Window.tsx'
import { ask, bridge } from '../store/bridge.ts'
import { closeDialog, openDialog, saveSettings, useApp } from '../store/app-store.ts'
import { sayNews, telling } from '../store/messages.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { keepingWords } from '../../shared-core/wording/window/keeping.ts'

type SetAside = CallOutput<'setAside.list'>
type BackupState = CallOutput<'backup.state'>
type Checked = CallOutput<'library.check'>

const dayFormat = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' })
const momentFormat = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' })
export const dayText = (iso: string) => dayFormat.format(new Date(iso))
export const momentText = (iso: string) => momentFormat.format(new Date(iso))
const size = (bytes: number) =>
  keepingWords('megabytes', { bytes: (bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0) })

/** Where the library is kept: backups, restoring, what was set aside, checking, the folder. */
export function KeepingDialog() {
  const [backup, setBackup] = useState<BackupState | null>(null)
  const [aside, setAside] = useState<SetAside>([])
  const jobs = useApp((s) => s.jobs)
  const done = jobs.filter((j) => j.state === 'done').length
  const [looks, setLooks] = useState(0)
  useEffect(() => {
    void telling(Promise.all([ask('backup.state', {}), ask('setAside.list', {})])).then((found) => {
      if (!found) return
      setBackup(found[0])
      setAside(found[1])
    })
  }, [looks, done])
  return (
    <Window
      title={keepingWords('backupsAndLibrary')}
      wide
      onClose={closeDialog}
      foot={<Action tone="lead" label={commonWords('done')} onPress={closeDialog} />}
    >
      <Backups state={backup} />
      <Health />
      {aside.length > 0 && <SetAsidePart list={aside} onChange={() => setLooks((n) => n + 1)} />}
      <Place />
    </Window>
  )
}

function Backups({ state }: { state: BackupState | null }) {
  const folder = useApp((s) => s.settings.backupFolder)
  const job = useApp((s) => s.jobs.findLast((j) => j.kind === 'backup'))
  const isRunning = job !== undefined && /waiting|running/.test(job.state)
  const choose = async () => {
    const chosen = await bridge().pickFolder()
    if (chosen === null) return
    await saveSettings({ backupFolder: chosen })
    await telling(ask('backup.make', { folder: chosen }))
  }
  const once = async () => {
    const chosen = folder ?? (await bridge().pickFolder())
    if (chosen !== null) await telling(ask('backup.make', { folder: chosen }))
  }
  const restore = async () => {
    const [file] = await bridge().pickFiles('backup')
    if (file) openDialog({ name: 'restore', file })
  }
  const missing = state?.files.filter((f) => !f.isThere) ?? []
  return (
    <section className="field">
      <h3>{keepingWords('backups')}</h3>
      <p className={state?.isOverdue ? 'note-box note-box-ask' : undefined} role="status">
        {state === null
          ? ''
          : state.lastMadeAt === null
            ? keepingWords('noBackupYet')
            : keepingWords('lastBackup', { lastMadeAt: momentText(state.lastMadeAt) })}
        {state?.isOverdue && keepingWords('tooLong')}
      </p>
      <p className="soft fine">
        {folder === null ? keepingWords('chooseOnce') : keepingWords('everyDay', { folder })}
      </p>
      {state !== null && state.damagedClips.length > 0 && (
        <p className="note-box note-box-ask">
          {keepingWords('backupHoldsDamaged', {
            clips: state.damagedClips.length,
            names: state.damagedClips.slice(0, 5).join(', '),
            more:
              state.damagedClips.length > 5
                ? keepingWords('andMore', { more: state.damagedClips.length - 5 })
                : '',
          })}
        </p>
      )}
      {missing.map((f) => (
        <p key={f.file} className="soft fine">
          {keepingWords('notAtHand', { file: f.file, madeAt: dayText(f.madeAt) })}
        </p>
      ))}
      {isRunning && <JobBar job={job} />}
      {!isRunning && job?.state === 'failed' && job.problem && (
        <p className="note-box note-box-ask">
          {keepingWords('lastFailed', { what: job.problem.what, toDo: job.problem.toDo ?? '' })}
        </p>
      )}
      <div className="row row-wrap">
        <Action
          withLabel
          label={keepingWords('backUpNow')}
          isDisabled={isRunning}
          onPress={() => void once()}
        />
        <Action
          withLabel
          tone="plain"
          label={folder === null ? commonWords('chooseFolder') : keepingWords('chooseAnotherFolder')}
          onPress={() => void choose()}
        />
        <Action withLabel tone="plain" label={keepingWords('restoreBackup')} onPress={() => void restore()} />
      </div>
    </section>
  )
}

function Health() {
  const [checked, setChecked] = useState<Checked | 'busy' | null>(null)
  const job = useApp((s) => s.jobs.findLast((j) => j.kind === 'repair'))
  const isRepairing = job !== undefined && /waiting|running/.test(job.state)
  const check = async () => {
    setChecked('busy')
    setChecked(await telling(ask('library.check', {})))
  }
  const wrong = checked !== null && checked !== 'busy' ? checked.lines.filter((line) => !line.ok) : []
  return (
    <section className="field">
      <h3>{keepingWords('isEverythingThere')}</h3>
      {checked === 'busy' && <p role="status">{keepingWords('comparingEveryFile')}</p>}
      {checked !== null && checked !== 'busy' && (
        <div role="status">
          <p>
            {checked.isSound
              ? keepingWords('inOrder')
              : keepingWords('thingsToLookAt', { things: wrong.length })}
          </p>
          <ul className="fine can-select">
            {(checked.isSound ? checked.lines : wrong).map((line) => (
              <li key={line.text}>{line.text}</li>
            ))}
          </ul>
        </div>
      )}
      {isRepairing && <p role="status">{job.step}…</p>}
      {job?.state === 'done' && job.result && (
        <p role="status">{keepingWords('repairResult', { result: job.result })}</p>
      )}
      <div className="row row-wrap">
        <Action
          withLabel
          label={keepingWords('checkEveryFile')}
          isDisabled={checked === 'busy'}
          onPress={() => void check()}
        />
        {wrong.length > 0 && (
          <Action
            withLabel
            tone="plain"
            label={keepingWords('makeAgain')}
            isDisabled={isRepairing}
            onPress={() => void telling(ask('library.repair', {}))}
          />
        )}
      </div>
    </section>
  )
}

function SetAsidePart({ list, onChange }: { list: SetAside; onChange: () => void }) {
  const roster = useApp((s) => s.roster)
  const lessons = (roster ?? []).flatMap((r) => r.lessons.map((l) => ({ ...l, student: r.name })))
  const [lessonId, setLessonId] = useState('')
  const [isSure, setSure] = useState(false)
  const old = list.filter((entry) => entry.isOld)
  const bytes = list.reduce((sum, entry) => sum + entry.byteLength, 0)
  const takeBack = async (name: string) => {
    if (await telling(ask('setAside.takeBack', { name, lessonId }))) {
      sayNews(keepingWords('beingTakenIn'))
    }
  }
  const remove = async () => {
    const gone = await telling(ask('setAside.delete', { names: old.map((entry) => entry.name) }))
    if (gone) sayNews(keepingWords('filesDeleted', { files: gone.filesDeleted, bytes: size(gone.bytes) }))
    setSure(false)
    onChange()
  }
  return (
    <section className="field">
      <h3>{keepingWords('setAside')}</h3>
      <p className="soft fine">{keepingWords('filesSetAside', { files: list.length, bytes: size(bytes) })}</p>
      {lessons.length > 0 && list.some((entry) => entry.kind === 'clip') && (
        <div className="field">
          <label htmlFor="take-back-into">{keepingWords('takeBackInto')}</label>
          <select
            id="take-back-into"
            className="input"
            value={lessonId}
            onChange={(event) => setLessonId(event.target.value)}
          >
            <option value="">{keepingWords('chooseLesson')}</option>
            {lessons.map((l) => (
              <option key={l.id} value={l.id}>
                {l.student}, {l.date} {l.title}
              </option>
            ))}
          </select>
        </div>
      )}
      <ul>
        {list.slice(0, 50).map((entry) => (
          <li key={entry.name} className="row fine">
            <span>
              {entry.kind === 'clip'
                ? keepingWords('clip')
                : entry.kind === 'talk-through'
                  ? commonWords('talkThrough')
                  : keepingWords('file')}{' '}
              {entry.name.slice(0, 8)}, {size(entry.byteLength)}, {dayText(entry.setAsideAt)}: {entry.why}
            </span>
            <span className="push" />
            {entry.kind === 'clip' && (
              <Action
                small
                tone="plain"
                label={keepingWords('takeBack', { name: entry.name.slice(0, 8) })}
                withLabel
                isDisabled={lessonId === ''}
                onPress={() => void takeBack(entry.name)}
              />
            )}
          </li>
        ))}
      </ul>
      {old.length > 0 && (
        <div className="row row-wrap">
          <span>{keepingWords('layLong', { files: old.length })}</span>
          {isSure ? (
            <>
              <Action small label={commonWords('keep')} onPress={() => setSure(false)} />
              <Action
                small
                tone="wrong"
                label={keepingWords('deleteThemForGood')}
                onPress={() => void remove()}
              />
            </>
          ) : (
            <Action small tone="plain" label={keepingWords('deleteThem')} onPress={() => setSure(true)} />
          )}
        </div>
      )}
    </section>
  )
}

function Place() {
  const folder = useApp((s) => s.info?.folder)
  const [doing, setDoing] = useState<string | null>(null)
  useEffect(
    () =>
      bridge().on('library.progress', ({ doing: what, progress }) =>
        setDoing(`${what}, ${Math.round(progress * 100)} %`),
      ),
    [],
  )
  const move = async () => {
    const chosen = await bridge().pickFolder()
    if (chosen !== null) await telling(ask('library.move', { folder: chosen }))
    setDoing(null)
  }
  const use = async () => {
    const chosen = await bridge().pickFolder()
    if (chosen !== null) await telling(ask('library.use', { folder: chosen }))
  }
  return (
    <section className="field">
      <h3>{keepingWords('folderOfLibrary')}</h3>
      <p className="fine can-select">{folder}</p>
      <p className="soft fine">{keepingWords('howToMove')}</p>
      {doing && (
        <div className="row" role="status">
          <span>{doing}</span>
          <span className="push" />
          <Action
            small
            tone="plain"
            label={commonWords('stop')}
            onPress={() => void telling(ask('library.stop', {}))}
          />
        </div>
      )}
      <div className="row row-wrap">
        <Action withLabel tone="plain" label={keepingWords('moveLibrary')} onPress={() => void move()} />
        <Action
          withLabel
          tone="plain"
          label={keepingWords('openAnotherLibrary')}
          onPress={() => void use()}
        />
      </div>
    </section>
  )
}
