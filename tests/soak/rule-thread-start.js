/** Lets a bare thread read TypeScript, then becomes `rule-thread.ts`. */
import { register } from 'tsx/esm/api';

register();
await import('./rule-thread.ts');
