import { closeDialog, saveSettings, useApp } from '../store/app-store.ts'
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
      <SavedText
        label="Path of ffmpeg (empty: found by itself)"
        value={settings.ffmpegPath ?? ''}
        onSave={(path) => void saveSettings({ ffmpegPath: path.trim() || null })}
      />
      {info && (
        <p className="fine soft">
          Library: {info.folder}. Nothing leaves this computer unless you write a hand-over and send it
          yourself.
        </p>
      )}
    </Window>
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
