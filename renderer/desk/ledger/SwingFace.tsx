import { MapPin, Unlink } from 'lucide-react'
import { clubWords, standardClubs } from '../../../shared-core/model/club.ts'
import type { OpenLesson, Shot, Swing, UnitSystem } from '../../../shared-core/model/entities.ts'
import { metricNames, type MetricName } from '../../../shared-core/model/shot.ts'
import { formatMetric, metricLabel } from '../../../shared-core/units.ts'
import { usable } from '../../../shared-core/shots/usable.ts'
import { keysOf } from '../../keys/handle-keys.ts'
import { Action } from '../../parts/Action.tsx'
import { Check } from '../../parts/Check.tsx'
import { Pick } from '../../parts/Pick.tsx'
import { NoteField } from '../../parts/NoteField.tsx'
import { SavedText } from '../../parts/SavedText.tsx'
import { openDialog } from '../../store/app-store.ts'
import { standsAlone } from '../../../shared-core/model/still.ts'
import { ledgerWords } from '../../../shared-core/wording/window/ledger.ts'
import { commonWords } from '../../../shared-core/wording/window/common.ts'
import { activeView, clipOf, edit, shotOf, useDesk } from '../../store/desk-store.ts'
import { BodyRows } from './BodyRows.tsx'
import { FollowedRows } from './FollowedRows.tsx'
import { CueList } from './CueList.tsx'
import { StillKind } from './StillKind.tsx'
import { StrikeFace } from './StrikeFace.tsx'
import { StrikeNumbers } from './StrikeNumbers.tsx'
import { TempoRows } from './TempoRows.tsx'

/** What is on the Stage: its numbers, tempo and body, its cues, and what the coach wrote. */
export function SwingFace({ opened, swing }: { opened: OpenLesson; swing: Swing }) {
  const picture = useDesk(activeView)
  const shot = shotOf(opened, swing)
  const clip = clipOf(opened, picture)
  const isAlone = standsAlone(opened, swing)
  return (
    <>
      {clip && clip.stillKind !== null && <StillKind key={clip.id} clip={clip} />}
      {!isAlone && <Numbers opened={opened} swing={swing} />}
      {picture && !isAlone && <TempoRows swingId={swing.id} units={opened.student.units} />}
      {picture && !isAlone && <BodyRows opened={opened} swing={swing} />}
      {picture && !isAlone && <FollowedRows opened={opened} swing={swing} picture={picture} />}
      <section className="ledger-part" aria-label={ledgerWords('cues')}>
        <div className="ledger-head">
          <h2>{ledgerWords('cues')}</h2>
          <span className="push" />
          <Action
            small
            withLabel
            tone="plain"
            icon={<MapPin size={15} />}
            label={commonWords('add')}
            keys={keysOf('cue')}
            isDisabled={!picture}
            onPress={() =>
              openDialog({ name: 'cue', momentId: useDesk.getState().selectedMomentId, x: null, y: null })
            }
          />
        </div>
        {picture && <CueList view={picture} />}
      </section>
      <section className="ledger-part">
        <NoteField
          key={swing.id}
          label={isAlone ? ledgerWords('notesOnPicture') : ledgerWords('notesOnSwing')}
          lines={1}
          value={swing.note}
          onSave={(note, noteBefore) =>
            void edit('swing.update', { ids: [swing.id], patch: { note }, noteBefore })
          }
        />
      </section>
      {shot && <StrikeFace key={shot.id} opened={opened} shot={shot} />}
    </>
  )
}

const always: readonly MetricName[] = [
  'clubSpeedMps',
  'ballSpeedMps',
  'launchDeg',
  'spinRpm',
  'carryM',
  'sideM',
]

function Numbers({ opened, swing }: { opened: OpenLesson; swing: Swing }) {
  const shot = shotOf(opened, swing)
  const units = opened.student.units
  if (!shot) {
    return (
      <section className="ledger-part" aria-label={ledgerWords('numbers')}>
        <h2>{ledgerWords('noShot')}</h2>
        <p className="soft">{ledgerWords('noShotHow')}</p>
        <PairPick opened={opened} swing={swing} />
      </section>
    )
  }
  const missing = always.filter((name) => shot[name] === null)
  const shown = metricNames.filter((name) => shot[name] !== null)
  // A reading to look at is never in the fold.
  const isFirst = (name: MetricName) => always.includes(name) || shot.flags.some((f) => f.metric === name)
  const first = shown.filter(isFirst)
  const rest = shown.filter((name) => !isFirst(name))
  return (
    <section className="ledger-part" aria-label={ledgerWords('numbers')}>
      <div className="ledger-head">
        <div className="ledger-club">
          <Pick
            hideLabel
            label={commonWords('club')}
            value={shot.club ?? 'unknown'}
            options={clubOptions(opened, shot)}
            onChange={(club) =>
              void edit('shot.update', { id: shot.id, patch: { club: club === 'unknown' ? null : club } })
            }
          />
        </div>
        <span className="push" />
        <PairState swing={swing} />
      </div>
      <StrikeNumbers opened={opened} shot={shot} />
      <dl className="numbers">
        {first.map((name) => (
          <OneNumber key={name} name={name} shot={shot} units={units} />
        ))}
      </dl>
      {(rest.length > 0 || missing.length > 0) && (
        <details className="fine more-numbers">
          <summary>
            {rest.length === 0
              ? ledgerWords('whatWasNotRecorded')
              : ledgerWords('moreNumbers', { count: rest.length })}
          </summary>
          <dl className="numbers">
            {rest.map((name) => (
              <OneNumber key={name} name={name} shot={shot} units={units} />
            ))}
          </dl>
          {missing.length > 0 && (
            <p className="soft">
              {ledgerWords('notRecordedThese', {
                numbers: missing.map((name) => metricLabel(name)).join(', '),
              })}
            </p>
          )}
        </details>
      )}
      <LeftOut shot={shot} />
    </section>
  )
}

function OneNumber({ name, shot, units }: { name: MetricName; shot: Shot; units: UnitSystem }) {
  const { text, unit } = formatMetric(name, shot[name], units)
  const flag = shot.flags.find((f) => f.metric === name)
  return (
    <div className={flag ? 'is-flagged' : ''}>
      <dt>{metricLabel(name)}</dt>
      <dd>
        {text}
        <span className="unit">{unit}</span>
      </dd>
      {flag && <div className="flag-note fine">{flag.message}</div>}
    </div>
  )
}

function LeftOut({ shot }: { shot: Shot }) {
  return (
    <div className="column" style={{ gap: 3 }}>
      {(shot.isTrusted || usable(shot).withheld.length > 0) && (
        <Check
          isOn={shot.isTrusted}
          onChange={(isTrusted) => void edit('shot.update', { id: shot.id, patch: { isTrusted } })}
        >
          {ledgerWords('trusted')}
        </Check>
      )}
      <Check
        isOn={shot.isLeftOut}
        onChange={(isLeftOut) => void edit('shot.update', { id: shot.id, patch: { isLeftOut } })}
      >
        {ledgerWords('leaveOut')}
      </Check>
      {shot.isLeftOut && (
        <SavedText
          hideLabel
          label={ledgerWords('whyLeftOut')}
          placeholder={ledgerWords('whyLeftOutHint')}
          value={shot.leftOutReason}
          onSave={(leftOutReason) => void edit('shot.update', { id: shot.id, patch: { leftOutReason } })}
        />
      )}
    </div>
  )
}

const clubOptions = (opened: OpenLesson, shot: Shot) => {
  const used = [...new Set(opened.shots.flatMap((s) => (s.club ? [s.club] : [])))]
  const all = [...new Set([...used, ...standardClubs])]
  const options = all.map((club) => ({ value: club, label: clubWords(club) }))
  return shot.club === null ? [{ value: 'unknown', label: ledgerWords('unknownClub') }, ...options] : options
}

/** How the clip and the shot found each other, and how to part them. */
function PairState({ swing }: { swing: Swing }) {
  if (swing.views.length === 0) return <span className="badge">{ledgerWords('noClip')}</span>
  const isByCoach = swing.pairHow === 'coach'
  const isUnsure = !isByCoach && swing.pairConfidence < 0.5
  const words = isByCoach
    ? ledgerWords('pairedByCoach')
    : ledgerWords('pairedByProgram', { percent: Math.round(swing.pairConfidence * 100) })
  return (
    <>
      <span className={`badge${isUnsure ? ' badge-ask' : ''}`}>{words}</span>
      <Action
        small
        tone="plain"
        icon={<Unlink size={15} />}
        label={ledgerWords('part')}
        onPress={() => void edit('pair.set', { swingId: swing.id, shotId: null })}
      />
    </>
  )
}

/** The keyboard's way to pair: choose the shot. */
function PairPick({ opened, swing }: { opened: OpenLesson; swing: Swing }) {
  const taken = new Set(opened.swings.flatMap((s) => (s.shotId && s.views.length > 0 ? [s.shotId] : [])))
  const free = opened.shots.filter((s) => !taken.has(s.id))
  if (free.length === 0 || swing.views.length === 0) return null
  const text = (s: Shot) =>
    [
      s.at ? s.at.slice(11, 19) : ledgerWords('line', { line: s.line }),
      clubWords(s.club),
      s.ballSpeedMps === null
        ? null
        : `${formatMetric('ballSpeedMps', s.ballSpeedMps, opened.student.units).text}`,
    ]
      .filter(Boolean)
      .join(' · ')
  return (
    <Pick
      label={ledgerWords('shotsWithoutClip')}
      value="none"
      options={[
        { value: 'none', label: ledgerWords('choose') },
        ...free.map((s) => ({ value: s.id, label: text(s) })),
      ]}
      onChange={(shotId) => {
        if (shotId !== 'none') void edit('pair.set', { swingId: swing.id, shotId })
      }}
    />
  )
}
