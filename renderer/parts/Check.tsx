import { Check as Tick } from 'lucide-react'
import type { ReactNode } from 'react'
import { Checkbox } from 'react-aria-components'

export function Check(props: { isOn: boolean; onChange: (isOn: boolean) => void; children: ReactNode }) {
  return (
    <Checkbox className="check" isSelected={props.isOn} onChange={props.onChange}>
      <span className="check-box" aria-hidden>
        <Tick size={14} strokeWidth={3} />
      </span>
      <span>{props.children}</span>
    </Checkbox>
  )
}
