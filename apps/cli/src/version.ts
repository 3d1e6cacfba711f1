import pack from "../../../package.json" with { type: "json" };

/** The version of the program, kept in one place: the package file. */
export const version: string = pack.version;
