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
        <p>{answer}</p>
      </div>
      {children && <div className="stage-acts">{children}</div>}
    </header>
  );
}
