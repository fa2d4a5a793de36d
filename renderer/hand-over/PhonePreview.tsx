import { LoaderCircle, RefreshCw } from 'lucide-react'
import { useEffect, useMemo, useRef, useState } from 'react'
import { Action } from '../parts/Action.tsx'
import { Choice } from '../parts/Choice.tsx'
import { problemPlaces } from '../parts/problem-places.ts'
import { makePreview, useComposer } from './composer-store.ts'
import { commonWords } from '../../shared-core/wording/window/common.ts'
import { handOverWords } from '../../shared-core/wording/window/hand-over.ts'

type Light = 'light' | 'dark'

/**
 * The student's page at the width of a phone. It runs no script and loads nothing: the frame is sandboxed and its page
 * is a string. Where the coach had scrolled to is kept when the page is made anew.
 */
export function PhonePreview() {
  const preview = useComposer((s) => s.preview)
  const [light, setLight] = useState<Light>('light')
  const { html, problem, isBeingMade } = preview
  return (
    <aside className="phone-side" aria-label={handOverWords('preview')}>
      <div className="row phone-head">
        <h2>{handOverWords('onPhone')}</h2>
        <span className="soft fine phone-state" role="status">
          {isBeingMade ? (
            <>
              <LoaderCircle size={14} className="turning" aria-hidden />{' '}
              {html === null ? handOverWords('beingMade') : handOverWords('picturesComing')}
            </>
          ) : problem ? (
            handOverWords('notUpToDate')
          ) : (
            ''
          )}
        </span>
        <span className="push" />
        <Choice
          small
          label={handOverWords('phoneIsSetTo')}
          value={light}
          options={[
            { value: 'light', label: commonWords('light') },
            { value: 'dark', label: commonWords('dark') },
          ]}
          onChange={setLight}
        />
      </div>
      {problem && (
        <div className="note-box note-box-ask column phone-problem" role="alert">
          <p>{handOverWords('previewFailed', problemPlaces(problem))}</p>
          <div>
            <Action
              small
              withLabel
              icon={<RefreshCw size={14} />}
              label={commonWords('tryAgain')}
              isDisabled={isBeingMade}
              onPress={() => void makePreview()}
            />
          </div>
        </div>
      )}
      <div className="phone">
        {html === null ? (
          <p className="soft phone-empty">
            {problem ? handOverWords('onlyPreviewMissing') : handOverWords('pageBeingMade')}
          </p>
        ) : (
          <PageFrame html={html} light={light} />
        )}
      </div>
    </aside>
  )
}

/** The page as on a phone set to light or dark, whatever the coach's own machine is set to. */
const litPage = (html: string, light: Light): string =>
  html.replaceAll(/\(\s*prefers-color-scheme:\s*(light|dark)\s*\)/g, (_, asked: string) =>
    asked === light ? '(min-width: 0)' : '(max-width: 0)',
  )

function PageFrame({ html, light }: { html: string; light: Light }) {
  const frame = useRef<HTMLIFrameElement>(null)
  const scrolledTo = useRef(0)
  const page = useMemo(() => litPage(html, light), [html, light])
  useEffect(() => {
    const element = frame.current
    if (!element) return
    const scrolling = () => element.contentDocument?.scrollingElement ?? null
    const loaded = () => {
      const scroller = scrolling()
      if (!scroller) return
      // As narrow a bar as a phone's.
      const root = element.contentDocument?.documentElement
      root?.style.setProperty('scrollbar-width', 'thin')
      root?.style.setProperty('color-scheme', light)
      scroller.scrollTop = scrolledTo.current
      element.contentWindow?.addEventListener('scroll', () => {
        scrolledTo.current = scrolling()?.scrollTop ?? 0
      })
    }
    element.addEventListener('load', loaded)
    return () => element.removeEventListener('load', loaded)
  }, [light])
  return (
    <iframe
      ref={frame}
      title={handOverWords('studentsPage')}
      // No scripts, no forms, no popups. The same origin only so that the place in the page can be kept.
      sandbox="allow-same-origin"
      srcDoc={page}
      style={{ colorScheme: light }}
    />
  )
}
