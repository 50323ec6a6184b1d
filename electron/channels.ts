// Names of the messages between page and main. No other ones exist.

/** What the page may ask, with an answer. */
export const ASKS = [
  'openJob',
  'recent',
  'openRecent',
  'saveJob',
  'saveJobAs',
  'presentDigest',
  'exportFile',
  'readAsset',
  'readBeside',
  'missingPictures',
  'putDraft',
  'listDrafts',
  'draftPicture',
  'dropDraft',
  'listening',
  'closeAnswer',
] as const;

export type Ask = (typeof ASKS)[number];

/** What main tells the page. */
export type Tell = 'askClose' | 'openAsked' | 'command';

export const channelOf = (name: Ask | Tell): string => `lidwright:${name}`;
