export type { Ghost } from './types';
export { View3D } from './view';
