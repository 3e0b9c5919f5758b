#compdef bathbook
# Completion of bathbook for zsh. To install: echo 'eval "$(bathbook completion zsh)"' >> ~/.zshrc
_bathbook() {
  local line value
  local -a answer shown
  answer=("${(@f)$(command bathbook __complete zsh "${(Q)PREFIX}" "${(@Q)words[2,CURRENT-1]}" 2> /dev/null)}")
  # --in=dirty: what is offered goes behind the sign.
  if [[ $PREFIX == --*=* ]]; then compset -P '*='; fi
  for line in "${(@)answer[2,-1]}"; do
    value=${line%%$'\t'*}
    value=${value//\\/\\\\}
    value=${value//:/\\:}
    if [[ $line == *$'\t'* ]]; then shown+=("$value:${line#*$'\t'}"); else shown+=("$value"); fi
  done
  case $answer[1] in
    files) _files ;;
    folders) _files -/ ;;
    open) _describe -V bathbook shown -S '' ;;
    *) _describe -V bathbook shown ;;
  esac
}
if [[ $zsh_eval_context[-1] == loadautofunc ]]; then
  _bathbook "$@"
else
  if ! (( $+functions[compdef] )); then
    autoload -Uz compinit && compinit -i
  fi
  compdef _bathbook bathbook
fi
