import { createStore } from 'zustand/vanilla';

/** What a person is asked before something that can't be taken back; the first answer is the safe one. */
export interface Question {
  readonly what: string;
  readonly safe: string;
  readonly risky: string;
}

export const question = createStore<{
  readonly asked: Question | null;
  readonly answer: (risky: boolean) => void;
}>(() => ({ asked: null, answer: () => undefined }));

/** Asks a question; true when the risky answer was given. One asked before it counts as answered safely. */
export function ask(asked: Question): Promise<boolean> {
  question.getState().answer(false);
  return new Promise((resolve) =>
    question.setState({
      asked,
      answer: (risky) => {
        question.setState({ asked: null, answer: () => undefined });
        resolve(risky);
      },
    }),
  );
}
