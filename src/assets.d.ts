/** A file of data/, as its text. */
declare module '*.csv' {
  const text: string;
  export default text;
}
declare module '*.yaml' {
  const text: string;
  export default text;
}
declare module '*.bash' {
  const text: string;
  export default text;
}
declare module '*.zsh' {
  const text: string;
  export default text;
}
declare module '*.fish' {
  const text: string;
  export default text;
}
