// Projections of the charting library: our figures show no maps.
import { leftOut } from "./left-out.ts";

interface Asked {
  readonly projection?: unknown;
}

/** The library's answer where no projection is asked for. */
export function createProjection({ projection }: Asked): undefined {
  if (projection != null) leftOut("projection");
}

export function hasProjection({ projection }: Asked = {}): boolean {
  return projection == null ? false : leftOut("projection");
}

export function projectionAspectRatio(projection: unknown): undefined {
  if (projection != null) leftOut("projection");
}

export const project = (): never => leftOut("project");
export const applyPosition = (): never => leftOut("applyPosition");
export const getGeometryChannels = (): never => leftOut("getGeometryChannels");
export const xyProjection = (): never => leftOut("xyProjection");
