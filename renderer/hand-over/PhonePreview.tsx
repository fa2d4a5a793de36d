import { LoaderCircle, RefreshCw } from 'lucide-react'
import { useEffect, useMemo, useRef, useState } from 'react'
import { Action } from '../parts/Action.tsx'
import { Choice } from '../parts/Choice.tsx'
import { makePreview, useComposer } from './composer-store.ts'

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
    <aside className="phone-side" aria-label="Preview">
      <div className="row phone-head">
        <h2>On the phone</h2>
        <span className="soft fine phone-state" role="status">
          {isBeingMade ? (
            <>
              <LoaderCircle size={14} className="turning" aria-hidden />{' '}
              {html === null ? 'being made…' : 'pictures on their way…'}
            </>
          ) : problem ? (
            'not up to date'
          ) : (
            ''
          )}
        </span>
        <span className="push" />
        <Choice
          small
          label="The phone is set to"
          value={light}
          options={[
            { value: 'light', label: 'Light' },
            { value: 'dark', label: 'Dark' },
          ]}
          onChange={setLight}
        />
      </div>
      {problem && (
        <div className="note-box note-box-ask column phone-problem" role="alert">
          <p>
            The preview can’t be shown: {problem.what}
            {problem.where && ` (${problem.where})`}. {problem.toDo}
          </p>
          <div>
            <Action
              small
              withLabel
              icon={<RefreshCw size={14} />}
              label="Try again"
              isDisabled={isBeingMade}
              onPress={() => void makePreview()}
            />
          </div>
        </div>
      )}
      <div className="phone">
        {html === null ? (
          <p className="soft phone-empty">
            {problem ? 'The hand-over is saved; only its preview is missing.' : 'The page is being made…'}
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
      title="The student’s page"
      // No scripts, no forms, no popups. The same origin only so that the place in the page can be kept.
      sandbox="allow-same-origin"
      srcDoc={page}
      style={{ colorScheme: light }}
    />
  )
}
