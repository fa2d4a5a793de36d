import { ImagePlus, LoaderCircle } from 'lucide-react'
import { useEffect, useState } from 'react'
import type { CoachPicture } from '../../shared-core/model/hand-over.ts'
import { Action } from '../parts/Action.tsx'
import { ask, bridge, coachPictureUrl } from '../store/bridge.ts'
import { telling } from '../store/messages.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

/** A picture of the coach's own, or a clip's poster; nothing where there is none. */
export function CoachThumb({ pictureId, alt }: { pictureId: string | null; alt: string }) {
  return pictureId === null ? null : (
    <img className="coach-thumb" src={coachPictureUrl(pictureId, 'poster')} alt={alt} loading="lazy" />
  )
}

/** Chooses the logo, or a drill's picture or clip. What is chosen is copied into the library, made small. */
export function CoachPictureField(props: {
  use: 'logo' | 'drill'
  label: string
  hint: string
  pictureId: string | null
  onChange: (pictureId: string | null) => void
}) {
  const { use, label, pictureId, onChange } = props
  const [isTaking, setTaking] = useState(false)
  const [known, setKnown] = useState<CoachPicture | null>(null)
  useEffect(() => {
    let isStill = true
    if (pictureId !== null) {
      void telling(ask('coachPicture.get', { id: pictureId })).then((answer) => {
        if (isStill) setKnown(answer?.picture ?? null)
      })
    }
    return () => {
      isStill = false
    }
  }, [pictureId])
  const shown = pictureId !== null && known?.id === pictureId ? known : null
  const choose = async () => {
    const [file] = (await telling(bridge().pickFiles(use === 'logo' ? 'image' : 'drill'))) ?? []
    if (!file) return
    setTaking(true)
    const added = await telling(ask('coachPicture.add', { file, use }))
    setTaking(false)
    if (added) onChange(added.id)
  }
  return (
    <div className="field" role="group" aria-label={label}>
      <span className="label">{label}</span>
      <div className="row row-wrap">
        {shown?.kind === 'clip' ? (
          // The coach's own clip has no words in it: its sound is taken out when it is taken in.
          <video
            className="coach-clip"
            controls
            playsInline
            src={coachPictureUrl(shown.id, 'play')}
            poster={coachPictureUrl(shown.id, 'poster')}
            aria-label={label}
          />
        ) : (
          shown && <CoachThumb pictureId={shown.id} alt={label} />
        )}
        {isTaking ? (
          <span className="soft row" role="status">
            <LoaderCircle size={14} className="turning" aria-hidden /> {handOverWords('beingTakenIn')}
          </span>
        ) : (
          <Action
            small
            withLabel
            icon={<ImagePlus size={15} />}
            label={
              use === 'logo'
                ? handOverWords(shown ? 'anotherLogo' : 'chooseLogo')
                : handOverWords(shown ? 'anotherPicture' : 'choosePicture')
            }
            onPress={() => void choose()}
          />
        )}
        {shown && !isTaking && (
          <Action
            small
            tone="plain"
            label={handOverWords(use === 'logo' ? 'withoutLogo' : 'withoutPicture')}
            onPress={() => onChange(null)}
          />
        )}
      </div>
      <span className="soft fine">{props.hint}</span>
    </div>
  )
}
