/** Entry of the page. */
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';

const element = document.getElementById('page');
if (element) createRoot(element).render(<App />);
