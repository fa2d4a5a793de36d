import { Check as Tick } from 'lucide-react'
import {
  accentOn,
  contrastRatio,
  isColour,
  minContrast,
  pageGrounds,
  usualAccent,
} from '../../shared-core/hand-over/accent.ts'
import { Radio, RadioGroup } from 'react-aria-components'
import { Action } from '../parts/Action.tsx'
import { Choice } from '../parts/Choice.tsx'
import { saveSettings, useApp } from '../store/app-store.ts'
import { sayNews } from '../store/messages.ts'
import { CoachPictureField } from './CoachPicture.tsx'
import { changeDraft, useComposer } from './composer-store.ts'
import { Part } from './Part.tsx'
import { Words } from './Words.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** Quiet tones that stay readable as lines and rules on paper, light and dark. */
const tones = [
  { name: handOverWords('petrol'), value: usualAccent },
  { name: handOverWords('moss'), value: '#4a7a3f' },
  { name: handOverWords('brass'), value: '#9a6a12' },
  { name: handOverWords('brick'), value: '#a5472f' },
  { name: handOverWords('plum'), value: '#7d4668' },
  { name: handOverWords('slate'), value: '#4b6278' },
] as const

const slowDowns = [2, 4, 8, 16] as const
type SlowDown = `${(typeof slowDowns)[number]}`

export const heights = [
  { value: '1080', label: handOverWords('lines1080') },
  { value: '720', label: handOverWords('lines720') },
] as const

/** How the clips run and what the page looks like. */
export function OptionsPart() {
  const draft = useComposer((s) => s.draft)!
  const settings = useApp((s) => s.settings)
  const isUsual =
    draft.coachName === settings.coachName &&
    draft.accent === settings.coachAccent &&
    draft.logoId === settings.coachLogoId
  const hasOwnTone = draft.accent !== '' && !tones.some((t) => t.value === draft.accent)
  return (
    <Part id="look" title={handOverWords('clipsAndLook')}>
      <div className="composer-options">
        <div className="field">
          <span className="label">{handOverWords('clipSpeed')}</span>
          <div>
            <Choice
              label={handOverWords('clipSpeed')}
              value={String(draft.slowBy) as SlowDown}
              options={slowDowns.map((n) => ({ value: `${n}` as SlowDown, label: `1/${n}` }))}
              onChange={(value) => changeDraft((d) => ({ ...d, slowBy: Number(value) }))}
            />
          </div>
          <span className="soft fine">{handOverWords('clipSpeedHint')}</span>
        </div>
        <div className="field">
          <span className="label">{commonWords('clipSize')}</span>
          <div>
            <Choice
              label={commonWords('clipSize')}
              value={`${draft.maxHeight}`}
              options={heights}
              onChange={(value) => changeDraft((d) => ({ ...d, maxHeight: value === '720' ? 720 : 1080 }))}
            />
          </div>
          <span className="soft fine">{handOverWords('clipSizeHint')}</span>
        </div>
        <Words
          label={handOverWords('yourName')}
          placeholder={handOverWords('yourNameHint')}
          maxLength={200}
          value={draft.coachName}
          onChange={(coachName) => changeDraft((d) => ({ ...d, coachName }))}
        />
        <div className="field">
          <span className="label" id="accent-label">
            {handOverWords('colour')}
          </span>
          <RadioGroup
            className="accents"
            aria-labelledby="accent-label"
            orientation="horizontal"
            value={draft.accent === '' ? tones[0].value : draft.accent}
            onChange={(accent) => changeDraft((d) => ({ ...d, accent }))}
          >
            {tones.map((tone) => (
              <Radio key={tone.value} value={tone.value} className="accent" aria-label={tone.name}>
                <span className="accent-dot" style={{ background: tone.value }}>
                  <Tick size={14} strokeWidth={3} aria-hidden />
                </span>
              </Radio>
            ))}
            <label className={`accent-own${hasOwnTone ? ' is-own' : ''}`}>
              <input
                type="color"
                aria-label={handOverWords('ownColour')}
                value={/^#[0-9a-f]{6}$/i.test(draft.accent) ? draft.accent : tones[0].value}
                onChange={(event) => {
                  const accent = event.target.value
                  changeDraft((d) => ({ ...d, accent }))
                }}
              />
              <span className="fine">{handOverWords('own')}</span>
            </label>
          </RadioGroup>
          <AccentNote accent={draft.accent} />
        </div>
        <CoachPictureField
          use="logo"
          label={handOverWords('yourLogo')}
          hint={handOverWords('logoHint')}
          pictureId={draft.logoId}
          onChange={(logoId) => changeDraft((d) => ({ ...d, logoId }))}
        />
      </div>
      {!isUsual && (
        <div>
          <Action
            small
            label={handOverWords('keepLook')}
            onPress={() =>
              void saveSettings({
                coachName: draft.coachName,
                coachAccent: draft.accent,
                coachLogoId: draft.logoId,
              }).then(() => sayNews(handOverWords('lookKept')))
            }
          />
        </div>
      )}
    </Part>
  )
}

/** A colour too faint for lines is not forbidden: the page takes the nearest that can be seen, and this says so. */
function AccentNote({ accent }: { accent: string }) {
  if (!isColour(accent)) return null
  const faint = (['light', 'dark'] as const).filter(
    (light) => contrastRatio(accent, pageGrounds[light]) < minContrast,
  )
  if (faint.length === 0) return null
  return (
    <span className="soft fine accent-note">
      {faint.map((light) => (
        <span key={light} className="row tight">
          <span className="accent-sample" style={{ background: accentOn(accent, pageGrounds[light]) }} />
          {handOverWords('tooFaint', { light })}
        </span>
      ))}
    </span>
  )
}
