export { BracketView, FaceChoice, useBracketView } from './bracket-view';
