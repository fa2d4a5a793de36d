/** The program's own mark: a lead line and the place where it meets the ground. */
export function Mark() {
  return (
    <svg className="mark" viewBox="0 0 26 26" aria-hidden>
      <rect x="0.5" y="0.5" width="25" height="25" rx="6" fill="var(--lead)" />
      <path d="M8 5v13.5h5" fill="none" stroke="var(--on-lead)" strokeWidth="2.4" strokeLinecap="round" />
      <circle cx="18" cy="18.5" r="2.6" fill="var(--on-lead)" />
    </svg>
  )
}
