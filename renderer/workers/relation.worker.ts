import { type RelationAsk, type RelationReply, answerRelation } from '../state/relations-question';

self.addEventListener('message', (event: MessageEvent<RelationAsk>) => {
  const { run, question } = event.data;
  self.postMessage({ run, answer: answerRelation(question) } satisfies RelationReply);
});
