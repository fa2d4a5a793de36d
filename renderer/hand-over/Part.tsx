import type { ReactNode } from 'react'

/** One part of the hand-over in the composer's column. */
export function Part(props: { id: string; title: string; side?: ReactNode; children: ReactNode }) {
  return (
    <section className="composer-part" id={`part-${props.id}`} aria-labelledby={`part-${props.id}-title`}>
      <div className="composer-part-head">
        <h2 id={`part-${props.id}-title`} tabIndex={-1}>
          {props.title}
        </h2>
        {props.side}
      </div>
      {props.children}
    </section>
  )
}
