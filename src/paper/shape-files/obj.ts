/**
 * The fabric, or its yarn, as Wavefront OBJ text: positions in mm (z up, right side up), normals, triangles, and
 * vertex colours in the widespread extension `v x y z r g b`.
 * Source: Wavefront, Object Files (.obj), Appendix B1 of the Advanced Visualizer manual (from
 * memory); indices are 1-based.
 */
import { packMesh, type ShapeMesh } from './shape-mesh.ts';

/** Digits after the point: 0.1 µm, far below what a knitter or a solver resolves. */
const DIGITS = 4;

export function writeObj(shape: ShapeMesh): string {
  const { title, part, positions, normals, triangles, colours } = packMesh(shape);
  const lines = [`# ${oneLine(title) || 'Fabric'}`, '# Lengths in mm, z up', `o ${part}`];
  for (let i = 0; i < positions.length; i += 3) {
    let line = `v ${fixed(positions[i])} ${fixed(positions[i + 1])} ${fixed(positions[i + 2])}`;
    if (colours) line += ` ${unit(colours[i])} ${unit(colours[i + 1])} ${unit(colours[i + 2])}`;
    lines.push(line);
  }
  for (let i = 0; i < normals.length; i += 3) {
    lines.push(`vn ${fixed(normals[i])} ${fixed(normals[i + 1])} ${fixed(normals[i + 2])}`);
  }
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t] + 1, triangles[t + 1] + 1, triangles[t + 2] + 1];
    lines.push(`f ${a}//${a} ${b}//${b} ${c}//${c}`);
  }
  return lines.join('\n') + '\n';
}

function fixed(x: number): string {
  const text = x.toFixed(DIGITS);
  return Number(text) === 0 ? '0' : text;
}

function unit(level: number): string {
  return (level / 255).toFixed(3);
}

/** A title must not end the comment it stands in. */
function oneLine(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}
