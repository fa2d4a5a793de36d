import { defaultSettings, type Settings } from '../../shared-core/model/hand-over.ts'
import { closeDialog, openDialog, saveSettings, useApp } from '../store/app-store.ts'
import { bridge } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { Action } from '../parts/Action.tsx'
import { Choice } from '../parts/Choice.tsx'
import { SliderField } from '../parts/SliderField.tsx'
import { SavedText } from '../parts/SavedText.tsx'
import { Window } from '../parts/Window.tsx'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { settingsWords } from '../../shared-core/wording/window/settings.ts'

export function SettingsDialog() {
  const settings = useApp((s) => s.settings)
  const info = useApp((s) => s.info)
  return (
    <Window
      title={commonWords('settings')}
      onClose={closeDialog}
      foot={<Action tone="lead" label={commonWords('done')} onPress={closeDialog} />}
    >
      <SavedText
        label={settingsWords('yourName')}
        value={settings.coachName}
        onSave={(coachName) => void saveSettings({ coachName })}
      />
      <div className="field">
        <span className="label">{settingsWords('lightOrDark')}</span>
        <div>
          <Choice
            label={settingsWords('lightOrDark')}
            value={settings.theme}
            options={[
              { value: 'system', label: settingsWords('asTheSystem') },
              { value: 'light', label: commonWords('light') },
              { value: 'dark', label: commonWords('dark') },
            ]}
            onChange={(theme) => void saveSettings({ theme })}
          />
        </div>
      </div>
      <NumberSetting
        label={settingsWords('microphoneToBall')}
        hint={settingsWords('microphoneHint')}
        value={settings.micDistanceM}
        min={0}
        max={100}
        onSave={(micDistanceM) => void saveSettings({ micDistanceM })}
      />
      <SliderField
        label={settingsWords('frameMemory')}
        value={settings.frameMemoryMb}
        min={128}
        max={2048}
        step={64}
        onChange={(frameMemoryMb) => useApp.setState({ settings: { ...settings, frameMemoryMb } })}
        onDone={(frameMemoryMb) => void saveSettings({ frameMemoryMb })}
      />
      <div className="field">
        <span className="label">{settingsWords('ffmpeg')}</span>
        <div className="row row-wrap">
          <span className="can-select" style={{ overflowWrap: 'anywhere' }}>
            {settings.ffmpegPath ?? settingsWords('foundByItself')}
          </span>
          <Action
            small
            label={settingsWords('choose')}
            onPress={() => void telling(bridge().chooseFfmpeg())}
          />
          {settings.ffmpegPath !== null && (
            <Action
              small
              label={settingsWords('findByItself')}
              onPress={() => void saveSettings({ ffmpegPath: null })}
            />
          )}
        </div>
      </div>
      <DeviceErrors settings={settings} />
      <div>
        <Action
          withLabel
          label={settingsWords('backupsAndLibrary')}
          onPress={() => openDialog({ name: 'keeping' })}
        />
      </div>
      {info && <p className="fine soft">{settingsWords('nothingLeaves', { folder: info.folder })}</p>}
    </Window>
  )
}

const deviceFields = [
  ['ballSpeedShare', settingsWords('ballSpeed'), 20],
  ['clubSpeedShare', settingsWords('clubSpeed'), 20],
  ['carryShare', settingsWords('carry'), 20],
  ['spinShare', settingsWords('spin'), 50],
] as const
const setupFields = [
  ['ballSpeedShare', settingsWords('ballSpeedAnew'), 20],
  ['clubSpeedShare', settingsWords('clubSpeedAnew'), 20],
  ['carryShare', settingsWords('carryAnew'), 20],
] as const

const asPercent = (share: number): number => Number((share * 100).toFixed(2))

/** How far readings may be off; every interval and every "can't tell" rests on it. */
function DeviceErrors({ settings }: { settings: Settings }) {
  const { device, setup } = settings
  return (
    <details>
      <summary>{settingsWords('deviceErrors')}</summary>
      <p className="fine soft">{settingsWords('deviceErrorsHint')}</p>
      <h3>{settingsWords('oneReading')}</h3>
      <div className="form-grid">
        {deviceFields.map(([key, label, max]) => (
          <NumberSetting
            key={key}
            label={label}
            value={asPercent(device[key])}
            min={0}
            max={max}
            onSave={(percent) => void saveSettings({ device: { ...device, [key]: percent / 100 } })}
          />
        ))}
        <NumberSetting
          label={settingsWords('launchAngle')}
          value={device.launchDeg}
          min={0}
          max={10}
          onSave={(launchDeg) => void saveSettings({ device: { ...device, launchDeg } })}
        />
      </div>
      <h3>{settingsWords('placedAnew')}</h3>
      <p className="fine soft">{settingsWords('placedAnewHint')}</p>
      <div className="form-grid">
        {setupFields.map(([key, label, max]) => (
          <NumberSetting
            key={key}
            label={label}
            value={asPercent(setup[key])}
            min={0}
            max={max}
            onSave={(percent) => void saveSettings({ setup: { ...setup, [key]: percent / 100 } })}
          />
        ))}
      </div>
      <Action
        small
        tone="plain"
        label={settingsWords('backToAssumptions')}
        onPress={() => void saveSettings({ device: defaultSettings.device, setup: defaultSettings.setup })}
      />
    </details>
  )
}

/** A number in a text field: saved once it reads as a number in range. */
export function NumberSetting(props: {
  label: string
  hint?: string
  value: number
  min: number
  max: number
  onSave: (value: number) => void
}) {
  return (
    <div className="column" style={{ gap: 3 }}>
      <SavedText
        label={props.label}
        value={String(props.value)}
        onSave={(text) => {
          const value = Number(text.replace(',', '.'))
          if (text.trim() !== '' && value >= props.min && value <= props.max) props.onSave(value)
        }}
      />
      {props.hint && <span className="fine soft">{props.hint}</span>}
    </div>
  )
}
