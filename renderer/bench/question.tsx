import { useEffect, useId, useRef } from 'react';
import { useStore } from 'zustand';
import { question } from '../state/ask';

/** The question asked before something that can't be taken back; Escape is the safe answer. */
export function QuestionBox(): React.JSX.Element | null {
  const { asked, answer } = useStore(question);
  const box = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    if (asked && !box.current?.open) box.current?.showModal();
  }, [asked]);
  if (!asked) return null;
  return (
    <dialog ref={box} className="question" aria-labelledby={id} onClose={() => answer(false)}>
      <p id={id}>{asked.what}</p>
      <div className="row">
        <button type="button" className="strong" autoFocus onClick={() => answer(false)}>
          {asked.safe}
        </button>
        <button type="button" onClick={() => answer(true)}>
          {asked.risky}
        </button>
      </div>
    </dialog>
  );
}
