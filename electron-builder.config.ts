// How the desktop program is packed (npm run package). The page and main are bundled: no package folder goes along.
export default {
  appId: 'org.lidwright.Lidwright',
  productName: 'Lidwright',
  directories: { output: 'out/packages' },
  files: [
    'out/main/**',
    'out/preload/**',
    'out/renderer/**',
    '!out/renderer/screenshots/**',
    'package.json',
    '!node_modules',
  ],
  asar: true,
  npmRebuild: false,
  icon: 'assets/icons/lidwright-1024.png',
  artifactName: 'lidwright-${version}-${os}-${arch}.${ext}',
  // opened by a double click; main checks the path as any other
  fileAssociations: [
    {
      ext: 'lidjob',
      name: 'Lidwright job',
      description: 'A lid, its struts and brackets',
      role: 'Editor',
      mimeType: 'application/x-lidjob',
    },
  ],
  electronFuses: {
    runAsNode: false,
    enableCookieEncryption: true,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    enableEmbeddedAsarIntegrityValidation: true,
    onlyLoadAppFromAsar: true,
    grantFileProtocolExtraPrivileges: false,
  },
  win: { target: ['nsis'] },
  nsis: { oneClick: false, perMachine: false, allowToChangeInstallationDirectory: true },
  mac: { target: ['dmg'], category: 'public.app-category.utilities', hardenedRuntime: true, gatekeeperAssess: false },
  linux: {
    target: ['AppImage', 'deb'],
    category: 'Engineering',
    maintainer: 'The Lidwright authors',
    synopsis: 'Gas springs for heavy hinged lids',
  },
  // there is no address to look for another edition at, and nothing looks for one
  publish: null,
};
