import { defaultSettings, type Settings } from '../../shared-core/model/hand-over.ts'
import { closeDialog, openDialog, saveSettings, useApp } from '../store/app-store.ts'
import { bridge } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { Action } from '../parts/Action.tsx'
import { Choice } from '../parts/Choice.tsx'
import { Level } from '../parts/Level.tsx'
import { SavedText } from '../parts/SavedText.tsx'
import { Window } from '../parts/Window.tsx'

export function SettingsDialog() {
  const settings = useApp((s) => s.settings)
  const info = useApp((s) => s.info)
  return (
    <Window
      title="Settings"
      onClose={closeDialog}
      foot={<Action tone="lead" label="Done" onPress={closeDialog} />}
    >
      <SavedText
        label="Your name, as it stands on the hand-over"
        value={settings.coachName}
        onSave={(coachName) => void saveSettings({ coachName })}
      />
      <div className="field">
        <span className="label">Light or dark</span>
        <div>
          <Choice
            label="Light or dark"
            value={settings.theme}
            options={[
              { value: 'system', label: 'As the system' },
              { value: 'light', label: 'Light' },
              { value: 'dark', label: 'Dark' },
            ]}
            onChange={(theme) => void saveSettings({ theme })}
          />
        </div>
      </div>
      <NumberSetting
        label="Microphone to ball for new lessons, metres"
        hint="The sound of the strike reaches the camera a little late: 3 ms for each metre."
        value={settings.micDistanceM}
        min={0}
        max={100}
        onSave={(micDistanceM) => void saveSettings({ micDistanceM })}
      />
      <Level
        label="Memory for decoded frames, MB"
        value={settings.frameMemoryMb}
        min={128}
        max={2048}
        step={64}
        onChange={(frameMemoryMb) => useApp.setState({ settings: { ...settings, frameMemoryMb } })}
        onDone={(frameMemoryMb) => void saveSettings({ frameMemoryMb })}
      />
      <div className="field">
        <span className="label">The ffmpeg that reads the clips</span>
        <div className="row row-wrap">
          <span className="can-select" style={{ overflowWrap: 'anywhere' }}>
            {settings.ffmpegPath ?? 'found by itself'}
          </span>
          <Action small label="Choose…" onPress={() => void telling(bridge().chooseFfmpeg())} />
          {settings.ffmpegPath !== null && (
            <Action small label="Find it by itself" onPress={() => void saveSettings({ ffmpegPath: null })} />
          )}
        </div>
      </div>
      <DeviceErrors settings={settings} />
      <div>
        <Action withLabel label="Backups and the library…" onPress={() => openDialog({ name: 'keeping' })} />
      </div>
      {info && (
        <p className="fine soft">
          Library: {info.folder}. Nothing leaves this computer unless you write a hand-over and send it
          yourself.
        </p>
      )}
    </Window>
  )
}

const deviceFields = [
  ['ballSpeedShare', 'Ball speed, %', 20],
  ['clubSpeedShare', 'Club speed, %', 20],
  ['carryShare', 'Carry, %', 20],
  ['spinShare', 'Spin, %', 50],
] as const
const setupFields = deviceFields.slice(0, 3) as readonly (readonly [
  keyof Settings['setup'],
  string,
  number,
])[]

const asPercent = (share: number): number => Number((share * 100).toFixed(2))

/** How far readings may be off; every interval and every "can't tell" rests on it. */
function DeviceErrors({ settings }: { settings: Settings }) {
  const { device, setup } = settings
  return (
    <details>
      <summary>How far the device’s readings may be off</summary>
      <p className="fine soft">
        One standard deviation each. The values given are assumptions: no independent figures could be
        confirmed. Put in what you know of your device; findings follow at once.
      </p>
      <h3>One reading</h3>
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
          label="Launch angle, degrees"
          value={device.launchDeg}
          min={0}
          max={10}
          onSave={(launchDeg) => void saveSettings({ device: { ...device, launchDeg } })}
        />
      </div>
      <h3>Placing the device anew</h3>
      <p className="fine soft">The same for every shot until it is moved; it counts between lessons.</p>
      <div className="form-grid">
        {setupFields.map(([key, label, max]) => (
          <NumberSetting
            key={key}
            label={`${label.replace(',', ' anew,')}`}
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
        label="Back to the assumptions"
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
