import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { showTheme } from './frame/preferences.ts';
import './look/tokens.css';
import './look/look.css';

showTheme();

const place = document.getElementById('page');
if (!place) throw new Error('index.html has no element called page');
createRoot(place).render(
  <StrictMode>
    <App />
  </StrictMode>,
);

// not there over plain http on the workshop's network: the page then works as long as it stays open
if (import.meta.env.PROD && 'serviceWorker' in navigator)
  navigator.serviceWorker.register('/sw.js').catch(() => undefined);
