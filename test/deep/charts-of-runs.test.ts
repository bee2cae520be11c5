import { describeCharts } from "../support/charts-of-runs.ts";

describeCharts({ every: 1 });
