/** The stitch atlas on the graphics card: three layered textures for all canvases' materials. */
import {
  DataArrayTexture,
  LinearFilter,
  LinearMipmapLinearFilter,
  RGBAFormat,
  UnsignedByteType,
} from 'three';
import { bakeTiles } from './stitch-atlas.ts';

export interface AtlasTextures {
  readonly relief: DataArrayTexture;
  readonly yarn: DataArrayTexture;
  readonly shelter: DataArrayTexture;
}

/** Textures that hold at least these tiles. Each canvas has its own; they are refreshed where tiles are new. */
export function createAtlasTextures(tiles: Iterable<number>): AtlasTextures {
  const { atlas } = bakeTiles(tiles);
  const layered = (data: Uint8Array<ArrayBuffer>) => {
    const texture = new DataArrayTexture(data, atlas.size, atlas.size, atlas.layers);
    texture.format = RGBAFormat;
    texture.type = UnsignedByteType;
    texture.magFilter = LinearFilter;
    texture.minFilter = LinearMipmapLinearFilter;
    texture.generateMipmaps = true;
    texture.anisotropy = 4;
    texture.needsUpdate = true;
    return texture;
  };
  return {
    relief: layered(atlas.relief),
    yarn: layered(atlas.yarn),
    shelter: layered(atlas.shelter),
  };
}

/** Bakes more tiles into textures that are there; true where some were new. */
export function refreshAtlas(textures: AtlasTextures, tiles: Iterable<number>): boolean {
  const { changed } = bakeTiles(tiles);
  if (changed) {
    textures.relief.needsUpdate = true;
    textures.yarn.needsUpdate = true;
    textures.shelter.needsUpdate = true;
  }
  return changed;
}
