import { createRoot } from 'react-dom/client';
import { App } from './app';
import { pickHost } from './host/host';
import { startAdvice, startFindings } from './state/aside';
import { startFiles } from './state/files';
import { startSurvey } from './state/survey';
import './style/fonts.css';
import './style/bench.css';
import './style/middle.css';
import './style/start.css';

const host = pickHost();
createRoot(document.getElementById('app') as HTMLElement).render(<App host={host} />);
void startFiles(host);
startSurvey();
startFindings();
startAdvice();
