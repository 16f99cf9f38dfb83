/** The address of a worker's built file. */
declare module "*?worker&url" {
  const url: string;
  export default url;
}
