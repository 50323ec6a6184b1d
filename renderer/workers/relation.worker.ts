import { type RelationAsk, type RelationReply, answerRelation } from '../../core/survey';

self.addEventListener('message', (event: MessageEvent<RelationAsk>) => {
  const { run, question } = event.data;
  self.postMessage({ run, answer: answerRelation(question) } satisfies RelationReply);
});
