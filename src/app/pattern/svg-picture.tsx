/** An SVG picture made as text by `paper`, put into the page as elements; no style of its own. */
import { useEffect, useRef } from 'react';

export function SvgPicture({ svg, name }: { readonly svg: string; readonly name?: string }) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const { documentElement } = new DOMParser().parseFromString(svg, 'image/svg+xml');
    host.current?.replaceChildren(document.importNode(documentElement, true));
  }, [svg]);
  return <div className={`svg-picture${name ? ` ${name}` : ''}`} ref={host} />;
}
