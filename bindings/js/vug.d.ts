// SPDX-License-Identifier: MIT
// Types of vug.js. Names of options and results are those of vug.h; raw.d.ts has them with their comments.
import type { CavityInfo, CavityOptions, CourseInfo, DrainOptions, EventInfo, FillOptions, Fluid,
    MeshCleanOptions, MeshCleanReport, MeshLoadOptions, MeshMeasures, MomentInfo, OpeningInfo, PlanBoreInfo,
    PlanInfo, PlanOptions, PocketInfo, PoolInfo, PoseInfo, PoseOptions, Raw, SkinInfo, SkinOptions,
    StepInfo } from "./raw";

export { CONSTANTS } from "./raw";
export type * from "./raw";

/** Three numbers in the part's coordinates. */
export type Vector = ArrayLike<number>;
/** Options with a table as rows or flat; what is left out has the library's default. */
export type Given<T> = { [K in keyof T]?: number[] extends T[K] ? ArrayLike<number> | number[][] : T[K] };
export type Roles = { roles?: ArrayLike<number> };
export type Paint = { fluid?: Given<Fluid> };

export declare class VugError extends Error {
    /** One of CONSTANTS.VUG_ERR_... */
    readonly status: number;
    /** Its name, such as "VUG_ERR_FORMAT". */
    readonly code: string;
}

declare class Handle {
    /** Gives its memory back now; else the collector does some time. */
    free(): void;
}

export declare class Mesh extends Handle {
    /** Corners, 3 numbers each, in mm; a copy. */
    readonly vertices: Float64Array;
    verticesFloat(origin?: Vector): Float32Array;
    /** Triangles, 3 numbers of corners each; a copy. */
    readonly triangles: Uint32Array;
    /** Of Cavities.mesh(): for each triangle -1 (wall) or the number of the opening that it caps. */
    readonly tags?: Int32Array;
    measure(): MeshMeasures;
    clean(options?: Given<MeshCleanOptions>): { mesh: Mesh; report: MeshCleanReport };
    cavities(options?: Given<CavityOptions> & { holes?: number[][] }): Cavities;
}

export declare class Cavities extends Handle {
    withBores(holes: number[][]): Cavities;
    readonly count: number;
    readonly openingCount: number;
    get(index: number): CavityInfo;
    opening(index: number): OpeningInfo & { letter: string };
    outline(index: number): Float64Array;
    mesh(index: number): Mesh | null;
    sides(): string;
    doubt(cavity?: number): string;
    pockets(up: Vector, options?: Given<PoseOptions> & Roles): Pockets;
    scan(options?: Given<PoseOptions> & Roles): Scan;
    fill(up: Vector, options?: Given<FillOptions> & Roles & Paint): Course;
    moment(up: Vector, options: { cavity?: number; spacing_mm?: number; liquid_mm3: number; air?: Vector[] }): Moment;
    drain(up: Vector, options?: Given<DrainOptions> & Roles & Paint): Course;
    skin(options?: Given<SkinOptions>): Skin;
    plan(options?: Given<PlanOptions> & Roles & Paint & { solvent?: Given<Fluid> }): Plan;
}

export declare class Pockets extends Handle {
    readonly count: number;
    readonly capacity_mm3: number;
    readonly trapped_mm3: number;
    pocketMesh(index: number): Mesh;
    get(index: number): PocketInfo;
    levels(points: ArrayLike<number>): Float64Array;
    section(point: Vector, direction: Vector): Float64Array;
}

export declare class Scan extends Handle {
    readonly count: number;
    readonly best: number;
    readonly ups: Float64Array;
    readonly trapped_mm3: Float64Array;
    get(index: number): PoseInfo;
}

export declare class Course extends Handle {
    readonly info: CourseInfo;
    readonly events: EventInfo[];
    curve(): Float64Array;
    atVolume(volume_mm3: number): Moment;
    atTime(time_s: number): Moment;
}

export declare class Moment extends Handle {
    readonly info: MomentInfo;
    pocket(index: number): PocketInfo;
    pool(index: number): PoolInfo;
    levels(points: ArrayLike<number>): Float64Array;
    turn(cavities: Cavities, up: Vector, options?: Given<FillOptions> & Roles & Paint): Course;
    pocketMesh(index: number): Mesh;
    poolMesh(index: number): Mesh;
    surface(): Mesh;
    section(point: Vector, direction: Vector): Float64Array;
}

export declare class Skin extends Handle {
    wet(fluid: Given<Fluid> | undefined, course: Course): void;
    readonly info: SkinInfo;
    triangles(cavity?: number): Float64Array;
    spots(): Float64Array;
}

export declare class Plan extends Handle {
    readonly count: number;
    get(index?: number): PlanInfo;
    steps(index?: number, sequence?: number): StepInfo[];
    bores(index?: number): PlanBoreInfo[];
    cavities(index?: number): Cavities | null;
    letter(opening: number, index?: number): string;
    cautions(index?: number): string[];
    text(options?: { index?: number; part?: string; paint?: string; rinse?: string; width?: number }): string;
}

export declare class Vug {
    /** Called at most 20 times a second while a long call runs; true cancels it. */
    progress: ((fraction: number, stage: string) => boolean | void) | null;
    /** Over shared memory: a call stops when its first number is not 0. */
    cancelFlag: Int32Array | null;
    /** The C calls as they stand. */
    readonly raw: Raw;
    readonly version: string;
    feature(name: string): boolean;
    letter(index: number): string;
    warnings(): string[];
    mesh(bytes: ArrayBuffer | Uint8Array, name?: string, options?: Given<MeshLoadOptions>): Mesh;
    meshFromArrays(vertices: ArrayLike<number>, triangles: ArrayLike<number>): Mesh;
    poseWords(up: Vector, from?: Vector): string;
    readonly fluids: string[];
    fluid(name: string, options?: { level?: number; temperature_c?: number }): Fluid;
    spherePoints(count: number): Float64Array;
}

/** Loads the library: bytes of vug.wasm, a compiled module, a Response or a URL; else vug.wasm beside this. */
export declare function load(source?: ArrayBuffer | Uint8Array | WebAssembly.Module | Response | URL | string): Promise<Vug>;
