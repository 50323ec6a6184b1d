import { useState } from 'react';
import { QUESTION_WORDS, type Question, questionWords, questionsOf } from '../../../core/findings';
import { dismiss } from '../../../core/job';
import { edit } from '../../state/store';
import { useToldMade } from '../../state/told';

function Open({ question }: { question: Question }): React.JSX.Element {
  const [reason, setReason] = useState('');
  return (
    <form
      className="row"
      onSubmit={(e) => {
        e.preventDefault();
        edit(`Leave out ${QUESTION_WORDS[question]}`, (j) =>
          dismiss(j, { finding: 'asked', about: question, reason: reason.trim().slice(0, 200) }),
        );
      }}
    >
      <label>
        No load case for {QUESTION_WORDS[question]} is needed, because{' '}
        <input
          className="wide"
          aria-label={`Why ${QUESTION_WORDS[question]} need not be asked`}
          value={reason}
          onChange={(e) => setReason(e.target.value)}
        />
      </label>
      <button type="submit" disabled={reason.trim() === ''}>
        It need not be asked
      </button>
    </form>
  );
}

/** What no load case asks, each to be left out with a reason that the report prints; what is left out can be asked again. */
export function AskedPart(): React.JSX.Element {
  const { open, left } = useToldMade(({ resolved }) => {
    const dismissed = (resolved.dismissed ?? []).filter((d) => d.finding === 'asked');
    const left = dismissed.map(({ about, reason }) => ({ about, reason }));
    const open = [...questionsOf(resolved)]
      .filter(([q, is]) => !is && !dismissed.some((d) => d.about === undefined || d.about === q))
      .map(([q]) => q);
    return { open, left };
  });
  return (
    <>
      {open.length > 0 && (
        <details className="item">
          <summary>Not asked: {open.map((q) => QUESTION_WORDS[q]).join(', ')}</summary>
          {open.map((q) => (
            <Open key={q} question={q} />
          ))}
        </details>
      )}
      {left.map(({ about, reason }) => (
        <p key={about ?? ''} className="hint">
          Left out: {questionWords(about) ?? 'everything'} ({reason}).{' '}
          <button type="button" onClick={() => edit('Ask again', (j) => dismiss(j, { finding: 'asked', about }))}>
            Ask again
          </button>
        </p>
      ))}
    </>
  );
}
