// Browser dev and preview: the renderer part of the electron-vite config, without Electron.
import { defineConfig } from 'vite';
import { renderer } from './electron.vite.config';

export default defineConfig({ ...renderer, server: { host: '127.0.0.1', port: 5177 } });
