/** A file of data/, as its text. */
declare module '*.csv' {
  const text: string;
  export default text;
}
declare module '*.yaml' {
  const text: string;
  export default text;
}
