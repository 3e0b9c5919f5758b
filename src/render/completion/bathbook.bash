# Completion of bathbook for bash. To install: echo 'eval "$(bathbook completion bash)"' >> ~/.bashrc
_bathbook() {
  local line how= at longest=0
  local -a values=() abouts=()
  while IFS= read -r line; do
    if [[ -z $how ]]; then
      how=$line
      continue
    fi
    values+=("${line%%$'\t'*}")
    if [[ $line == *$'\t'* ]]; then abouts+=("${line#*$'\t'}"); else abouts+=(''); fi
  done < <(command bathbook __complete bash "${COMP_LINE:0:COMP_POINT}" "$COMP_WORDBREAKS" 2> /dev/null)
  COMPREPLY=(${values[@]+"${values[@]}"})
  case $how in
    files) compopt -o default 2> /dev/null || while IFS= read -r line; do COMPREPLY+=("$line"); done < <(compgen -f -- "$2") ;;
    folders) compopt -o dirnames 2> /dev/null || while IFS= read -r line; do COMPREPLY+=("$line"); done < <(compgen -d -- "$2") ;;
    open) compopt -o nospace -o nosort 2> /dev/null ;;
    *) compopt -o nosort 2> /dev/null ;;
  esac
  # The second press of the key lists and inserts nothing: there is room to say what each value means.
  if [[ $COMP_TYPE == 63 && ${#values[@]} -gt 1 ]]; then
    for line in "${values[@]}"; do ((${#line} > longest)) && longest=${#line}; done
    for at in "${!values[@]}"; do
      [[ -n ${abouts[at]} ]] || continue
      printf -v line "%-${longest}s  %s" "${values[at]}" "${abouts[at]}"
      COMPREPLY[at]=${line:0:$((${COLUMNS:-80} - 2))}
    done
  fi
  return 0
}
complete -F _bathbook bathbook
