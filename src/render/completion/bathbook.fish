# Completion of bathbook for fish. To install: bathbook completion fish > ~/.config/fish/completions/bathbook.fish
function __bathbook_offers
    set -l typed (commandline -ct)
    set -l words (commandline -xpc 2>/dev/null; or commandline -opc)
    set -e words[1]
    set -l answer (command bathbook __complete fish "$typed" $words 2>/dev/null)
    switch "$answer[1]"
        case files
            __fish_complete_path "$typed"
        case folders
            __fish_complete_directories "$typed"
        case '*'
            set -e answer[1]
            printf '%s\n' $answer
    end
end
complete -c bathbook -f -k -a '(__bathbook_offers)'
