/** The canvas of every scene: one lens, drawn anew only when something changed. The picture around it takes the keys. */
import { Canvas } from '@react-three/fiber';
import type { ReactNode } from 'react';
import { canvasQuality } from './graphics.ts';

export function SceneCanvas({ children }: { readonly children: ReactNode }) {
  return (
    <Canvas
      flat
      frameloop="demand"
      camera={{ fov: 28, near: 1, far: 10_000 }}
      {...canvasQuality()}
      tabIndex={-1}
    >
      {children}
    </Canvas>
  );
}
