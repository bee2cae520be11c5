import { describeDescriptions } from "../support/descriptions.ts";

describeDescriptions(1);
