import type { FindingState } from '../../core/findings';

/** Each state's sign: told apart by its shape alone. */
const SHAPES: Readonly<Record<FindingState, React.JSX.Element>> = {
  fails: (
    <>
      <rect x="1" y="1" width="12" height="12" className="mark-fill" />
      <rect x="3.5" y="6" width="7" height="2" className="mark-gap" />
    </>
  ),
  watch: <path d="M7 1.8L13 12.4H1ZM7 5.4v3.4M7 10v1.2" className="mark-line" />,
  holds: (
    <>
      <circle cx="7" cy="7" r="5.8" className="mark-line" />
      <path d="M4 7.2L6.3 9.5L10 4.8" className="mark-line" />
    </>
  ),
  unknown: (
    <>
      <circle cx="7" cy="7" r="5.8" className="mark-line" strokeDasharray="4 2.1" />
      <circle cx="7" cy="7" r="1.4" className="mark-fill" />
    </>
  ),
};

/** The sign of a state, beside a word that says the same. */
export const Mark = ({ state }: { state: FindingState }): React.JSX.Element => (
  <svg viewBox="0 0 14 14" width="14" height="14" className={`mark-of ${state}`} aria-hidden="true">
    {SHAPES[state]}
  </svg>
);
