import { render } from 'hono/jsx/dom';
import { App } from './app.tsx';
import { lastCase } from './kept.ts';
import { startDevice } from './offline/device.ts';
import './style/fonts.css';
import './style/base.css';
import './style/record.css';
import './style/evidence.css';
import './style/views.css';
import './style/print.css';

const root = document.getElementById('app');
if (root) render(<App />, root);

if (import.meta.env.PROD) startDevice(() => lastCase()?.id);
