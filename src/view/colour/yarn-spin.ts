/** How the yarn in the picture is spun: what wool.glsl makes of its colour. */

export type Spin = 'smooth' | 'heather' | 'tweed' | 'marl';

/** Values of the uniform `spin`: heather, neps, marl. Chosen by eye. */
export const SPIN_VALUES: Readonly<Record<Spin, readonly [number, number, number]>> = {
  smooth: [0.25, 0, 0],
  heather: [1.1, 0, 0],
  tweed: [0.8, 0.085, 0],
  marl: [0.3, 0, 1],
};

/** Where colours carry numbers the yarn has one colour a stitch. */
export const PLAIN_SPIN: readonly [number, number, number] = [0, 0, 0];
