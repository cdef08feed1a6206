/** Entry of the page. */
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { keepPage } from './state/offline.ts';

const element = document.getElementById('page');
if (element) createRoot(element).render(<App />);
keepPage();
