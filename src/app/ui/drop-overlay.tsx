/** A plan or project file dropped anywhere on the page opens; other drops are refused with a notice. */
import { useEffect, useState } from 'react';
import { openFile } from '../state/plan-actions.ts';

const carriesFile = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;

export function DropVeil() {
  const [over, setOver] = useState(false);
  useEffect(() => {
    let depth = 0;
    const enter = (event: DragEvent) => {
      if (!carriesFile(event)) return;
      depth++;
      setOver(true);
    };
    const leave = (event: DragEvent) => {
      if (!carriesFile(event)) return;
      depth = Math.max(0, depth - 1);
      if (depth === 0) setOver(false);
    };
    const move = (event: DragEvent) => {
      if (carriesFile(event)) event.preventDefault();
    };
    const drop = (event: DragEvent) => {
      if (!carriesFile(event)) return;
      event.preventDefault();
      depth = 0;
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file) void openFile(file);
    };
    window.addEventListener('dragenter', enter);
    window.addEventListener('dragleave', leave);
    window.addEventListener('dragover', move);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragenter', enter);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('dragover', move);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return over ? <div className="drop-veil">Drop a plan in plain text, or a project</div> : null;
}
