/** What a stage asks, how it stands in the number that matters, and at most three controls. */
export function StageHead({
  question,
  answer,
  children,
}: {
  question: string;
  answer: React.ReactNode;
  children?: React.ReactNode;
}): React.JSX.Element {
  return (
    <header className="stage-head">
      <div>
        <h2>{question}</h2>
        <p title={typeof answer === 'string' ? answer : undefined}>{answer}</p>
      </div>
      {children && <div className="stage-acts">{children}</div>}
    </header>
  );
}

/** One of a few, side by side. */
export function Segment<T extends string | number>({
  label,
  options,
  value,
  onChoose,
}: {
  label: string;
  options: readonly (readonly [value: T, words: string])[];
  value: T;
  onChoose: (value: T) => void;
}): React.JSX.Element {
  return (
    <span className="segment" role="group" aria-label={label}>
      {options.map(([v, words]) => (
        <button key={v} type="button" aria-pressed={v === value} onClick={() => onChoose(v)}>
          {words}
        </button>
      ))}
    </span>
  );
}
