/**
 * The Metric: the sheet's rest shape as an elastic triangle mesh, made from the StitchGraph and the
 * gauge by `buildMetric`. Lengths mm. Energies are in units of the in-plane stiffness K (N/mm) × mm²,
 * so K = 1 here; bending enters through the length l = √(B/K) mm.
 *
 * Energy: E = ½ Σ_s k_s (|x_i − x_j| − L_s)² + ½ l² Σ_h |Σ_m q_hm x_m|² .
 */

export const SPRING_COURSE = 0;
export const SPRING_WALE = 1;
export const SPRING_DIAGONAL = 2;

export interface Metric {
  readonly version: 1;
  readonly vertices: number;
  /** [2·springs] end vertices. */
  readonly springs: Int32Array;
  /** [springs] rest length, mm. */
  readonly restMm: Float64Array;
  /** [springs] stiffness, dimensionless (K = 1). */
  readonly stiffness: Float64Array;
  /** [springs] SPRING_COURSE, SPRING_WALE or SPRING_DIAGONAL. */
  readonly springKind: Uint8Array;
  /**
   * [4·hinges] vertices of each hinge: shared edge (0, 1), then the two opposite corners.
   * A hinge is quadratic in position; weights carry the intrinsic cotangents.
   */
  readonly hinges: Int32Array;
  /** [4·hinges] q_hm, mm⁻¹·(weight)^½: bending energy is ½ l² Σ_h |Σ_m q_hm x_m|². */
  readonly hingeWeights: Float64Array;
  /** What free stockinette adds to the bending; absent for fabric that is held down (gauge/curl.ts). */
  readonly curl?: Curl;
  /** Bending length l = √(B/K), mm. */
  readonly bendingMm: number;
  /** [3·triangles] for drawing and areas, counter-clockwise from the RS. */
  readonly triangles: Int32Array;
  /** [vertices] share of the surface, mm², at rest. */
  readonly areaMm2: Float64Array;
  /** Local stitch width and course height, [vertices], mm; for reports and colours. */
  readonly stitchMm: Float64Array;
  readonly roundMm: Float64Array;
  readonly ring: RingProfile;
}

/** Hinges that want to fold: energy `energy` − Σ_h moments_h · 6V_h, V the volume of a hinge's four vertices. */
export interface Curl {
  /** [hinges] mm⁻¹, K = 1; positive lifts what lies beside towards the right side, for vertices in order. */
  readonly moments: Float64Array;
  /** Of the flat sheet, so that the sum stays positive. */
  readonly energy: number;
}

/** What a start position needs: each vertex's place on its round, and each round's size. */
export interface RingProfile {
  /** How the sheet closes on itself: a closed ring of courses or an open strip. */
  readonly closed: boolean;
  /** Half turns of the band (odd: Möbius). */
  readonly halfTurns: number;
  /** [vertices] fraction of the way round, 0 … 1, in working direction. */
  readonly turn: Float64Array;
  /** [vertices] depth along the wale from the cast-on, mm. */
  readonly depthMm: Float64Array;
  /** [samples] depth of each sampled ring, ascending from 0 at the cast-on, mm. */
  readonly sampleDepthMm: Float64Array;
  /** [samples] perimeter (width for an open strip) of each sampled ring, mm, smooth. */
  readonly samplePerimeterMm: Float64Array;
  /** Number of corner lines; 0 for none (spread or unshaped). */
  readonly corners: number;
  /** `turn` of each corner line at the widest round. */
  readonly cornerTurn: Float64Array;
  /** Total cone angle at the widest round, rad (2π is flat); NaN for tubes and open strips. */
  readonly coneAngleRad: number;
  /** [3·vertices] an open strip that short rows bend, laid out in the plane; absent where none do. */
  readonly bentPlane?: Float64Array;
  /** +1 if rounds run clockwise seen from the RS (outside in), −1 counter-clockwise (centre out). */
  readonly clockwise: 1 | -1;
}
