import { createRoot } from 'react-dom/client';
import { freezeWorkings } from '../core/workings';
import { App } from './app';
import { pickHost } from './host/host';
import { startAdvice, startFindings } from './state/aside';
import { startFiles } from './state/files';
import { startSurvey } from './state/survey';
import { startWorksMap } from './state/works-map';
import './style/fonts.css';
import './style/bench.css';
import './bench/header.css';
import './style/frame.css';
import './views/views.css';
import './style/fields.css';
import './bench/findings.css';
import './style/middle.css';
import './stages/strut/strut.css';
import './stages/joints/joints.css';
import './stages/weigh/weigh-middle.css';
import './style/panel.css';
import './stages/bracket/bracket-middle.css';
import './style/narrow.css';
import './style/places.css';
import './style/start.css';

// what writes on a result that others hold shows while one develops
if (import.meta.env.DEV) freezeWorkings(true);

const host = pickHost();
createRoot(document.getElementById('app') as HTMLElement).render(<App host={host} />);
void startFiles(host);
startSurvey();
startWorksMap();
startFindings();
startAdvice();
