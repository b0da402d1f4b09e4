import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { showTheme } from './frame/preferences.ts';
import { startRecord } from './record/record.ts';
import './look/tokens.css';
import './look/look.css';

showTheme();
// the pages of the pattern do without the record of a class; all others ask for it while they are still being loaded
if (!window.location.pathname.startsWith('/pattern')) void startRecord();

const place = document.getElementById('page');
if (!place) throw new Error('index.html has no element called page');
createRoot(place).render(
  <StrictMode>
    <App />
  </StrictMode>,
);

// not there over plain http on the workshop's network: the page then works as long as it stays open. It brings the whole
// page in, so it waits until what is looked at has come.
if (import.meta.env.PROD && 'serviceWorker' in navigator)
  window.setTimeout(() => void navigator.serviceWorker.register('/sw.js').catch(() => undefined), 4000);
