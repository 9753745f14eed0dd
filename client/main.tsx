import { render } from 'hono/jsx/dom';
import { App } from './app.tsx';
import './style/base.css';
import './style/record.css';
import './style/evidence.css';
import './style/views.css';
import './style/print.css';

const root = document.getElementById('app');
if (root) render(<App />, root);

// Without it the page still works; it only is not kept for when the network is gone.
if (import.meta.env.PROD && 'serviceWorker' in navigator)
  navigator.serviceWorker.register('/sw.js', { scope: '/' }).catch(() => {});
