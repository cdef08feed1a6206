/** The part of d3-force-3d (which ships no types) that the bench uses. */
declare module 'd3-force-3d' {
  export interface Node {
    x: number;
    y: number;
    z: number;
    vx: number;
    vy: number;
    vz: number;
  }
  export interface Link {
    source: number | Node;
    target: number | Node;
  }
  export type Force = ((alpha: number) => void) & { initialize?: (nodes: Node[]) => void };
  export interface LinkForce extends Force {
    distance(value: (link: Link, index: number) => number): this;
    strength(value: (link: Link, index: number) => number): this;
    iterations(count: number): this;
  }
  export interface Simulation {
    stop(): this;
    tick(count?: number): this;
    alphaDecay(value: number): this;
    velocityDecay(value: number): this;
    force(name: string, force: Force): this;
  }
  export function forceSimulation(nodes: Partial<Node>[], dimensions: number): Simulation;
  export function forceLink(links: Link[]): LinkForce;
}
