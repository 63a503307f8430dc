# SPDX-License-Identifier: MIT
# Completion in bash for vug's programs. Options and questions are read from their own --help.

# _vug COMMAND WORD WORD-BEFORE
_vug()
{
    local help value choices= word=$2 before=$3 question=()
    COMPREPLY=()
    if [[ $1 == *vug-sums && COMP_CWORD -gt 1 ]]; then
        question=("${COMP_WORDS[1]}")
    fi
    help=$("$1" "${question[@]}" --help 2>/dev/null) || return 0
    # bash takes --option=value for three words.
    if [[ $word == "=" ]]; then
        word=
    elif [[ $before == "=" ]]; then
        before=${COMP_WORDS[COMP_CWORD - 2]}
    fi
    value=
    if [[ $before == --* ]]; then
        value=$(sed -n "s/^  $before \([^ ][^ ]*\).*/\1/p" <<<"$help")
    fi
    case $before:$value in
    *:FILE* | *:BASE)
        compopt -o filenames 2>/dev/null
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        return
        ;;
    --liquid:* | --paint:* | --rinse:* | --fluid:*)
        choices=$'craft-acrylic\nthinned-acrylic\ndyed-epoxy\nplaster-slip\nresin\nisopropanol\nwater'
        ;;
    --units:*) choices=$'um\nmm\ncm\nm\nin\nft' ;;
    --content:*) choices=$'water\nplain' ;;
    --exchange:*) choices=$'no\nfree\npinned' ;;
    --drills:*) choices=$'stock\ntenths\nhalves' ;;
    *:?*) return ;; # a number
    *)
        if [[ $word == -* ]]; then
            choices=$(sed -n 's/^  \(-h, \)\{0,1\}\(--[a-z][a-z0-9-]*\).*/\2/p' <<<"$help")
        elif [[ $1 == *vug-sums && COMP_CWORD -eq 1 ]]; then
            choices=$(sed -n 's/^  \([a-z][a-z]*\)  *.*/\1/p' <<<"$help")
        elif [[ $1 != *vug-sums && $1 != *vug-coral ]]; then
            compopt -o filenames 2>/dev/null
            mapfile -t COMPREPLY < <(compgen -d -- "$word"
                compgen -f -- "$word" | grep -iE '\.(stl|3mf|obj|ply|off)$')
            return
        fi
        ;;
    esac
    local IFS=$'\n'
    mapfile -t COMPREPLY < <(compgen -W "$choices" -- "$word")
}

complete -F _vug vug-plan vug-measure vug-hollow vug-fill vug-drain vug-sums vug-coral
