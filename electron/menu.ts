import type { MenuItemConstructorOptions } from 'electron';
import type { HostCommand } from '../renderer/host/interface';

/** The window's menu, in plain words. The keys are shown here but belong to the page, which knows what is being edited. */
export function menuTemplate(
  send: (command: HostCommand) => void,
  { mac = false }: { mac?: boolean } = {},
): MenuItemConstructorOptions[] {
  const item = (label: string, command: HostCommand, accelerator?: string): MenuItemConstructorOptions => ({
    label,
    ...(accelerator === undefined ? {} : { accelerator, registerAccelerator: false }),
    click: () => send(command),
  });
  return [
    ...(mac ? [{ role: 'appMenu' } as const] : []),
    {
      label: 'File',
      submenu: [
        item('New job', 'new'),
        item('Open…', 'open', 'CmdOrCtrl+O'),
        { type: 'separator' },
        item('Save', 'save', 'CmdOrCtrl+S'),
        item('Save as…', 'saveAs', 'CmdOrCtrl+Shift+S'),
        { type: 'separator' },
        mac ? { role: 'close', label: 'Close' } : { role: 'quit', label: 'Quit' },
      ],
    },
    {
      label: 'Edit',
      submenu: [
        item('Undo', 'undo', 'CmdOrCtrl+Z'),
        item('Redo', 'redo', mac ? 'Cmd+Shift+Z' : 'Ctrl+Y'),
        { type: 'separator' },
        { role: 'cut', label: 'Cut' },
        { role: 'copy', label: 'Copy' },
        { role: 'paste', label: 'Paste' },
        { role: 'selectAll', label: 'Select all' },
      ],
    },
    {
      label: 'View',
      submenu: [
        { role: 'zoomIn', label: 'Larger' },
        { role: 'zoomOut', label: 'Smaller' },
        { role: 'resetZoom', label: 'Usual size' },
        { type: 'separator' },
        { role: 'togglefullscreen', label: 'Full screen' },
      ],
    },
  ];
}
