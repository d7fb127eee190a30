_gapwright() {
    local i cur prev opts cmd
    COMPREPLY=()
    if [[ "${BASH_VERSINFO[0]}" -ge 4 ]]; then
        cur="$2"
    else
        cur="${COMP_WORDS[COMP_CWORD]}"
    fi
    prev="$3"
    cmd=""
    opts=""

    for i in "${COMP_WORDS[@]:0:COMP_CWORD}"
    do
        case "${cmd},${i}" in
            ",$1")
                cmd="gapwright"
                ;;
            gapwright,check)
                cmd="gapwright__subcmd__check"
                ;;
            gapwright,decide)
                cmd="gapwright__subcmd__decide"
                ;;
            gapwright,due)
                cmd="gapwright__subcmd__due"
                ;;
            gapwright,export)
                cmd="gapwright__subcmd__export"
                ;;
            gapwright,heat)
                cmd="gapwright__subcmd__heat"
                ;;
            gapwright,help)
                cmd="gapwright__subcmd__help"
                ;;
            gapwright,import)
                cmd="gapwright__subcmd__import"
                ;;
            gapwright,pack)
                cmd="gapwright__subcmd__pack"
                ;;
            gapwright,parts)
                cmd="gapwright__subcmd__parts"
                ;;
            gapwright,plan)
                cmd="gapwright__subcmd__plan"
                ;;
            gapwright,reading)
                cmd="gapwright__subcmd__reading"
                ;;
            gapwright,sample)
                cmd="gapwright__subcmd__sample"
                ;;
            gapwright,sheet)
                cmd="gapwright__subcmd__sheet"
                ;;
            gapwright,study)
                cmd="gapwright__subcmd__study"
                ;;
            gapwright,torque)
                cmd="gapwright__subcmd__torque"
                ;;
            gapwright,trend)
                cmd="gapwright__subcmd__trend"
                ;;
            gapwright__subcmd__help,check)
                cmd="gapwright__subcmd__help__subcmd__check"
                ;;
            gapwright__subcmd__help,decide)
                cmd="gapwright__subcmd__help__subcmd__decide"
                ;;
            gapwright__subcmd__help,due)
                cmd="gapwright__subcmd__help__subcmd__due"
                ;;
            gapwright__subcmd__help,export)
                cmd="gapwright__subcmd__help__subcmd__export"
                ;;
            gapwright__subcmd__help,heat)
                cmd="gapwright__subcmd__help__subcmd__heat"
                ;;
            gapwright__subcmd__help,help)
                cmd="gapwright__subcmd__help__subcmd__help"
                ;;
            gapwright__subcmd__help,import)
                cmd="gapwright__subcmd__help__subcmd__import"
                ;;
            gapwright__subcmd__help,pack)
                cmd="gapwright__subcmd__help__subcmd__pack"
                ;;
            gapwright__subcmd__help,parts)
                cmd="gapwright__subcmd__help__subcmd__parts"
                ;;
            gapwright__subcmd__help,plan)
                cmd="gapwright__subcmd__help__subcmd__plan"
                ;;
            gapwright__subcmd__help,reading)
                cmd="gapwright__subcmd__help__subcmd__reading"
                ;;
            gapwright__subcmd__help,sample)
                cmd="gapwright__subcmd__help__subcmd__sample"
                ;;
            gapwright__subcmd__help,sheet)
                cmd="gapwright__subcmd__help__subcmd__sheet"
                ;;
            gapwright__subcmd__help,study)
                cmd="gapwright__subcmd__help__subcmd__study"
                ;;
            gapwright__subcmd__help,torque)
                cmd="gapwright__subcmd__help__subcmd__torque"
                ;;
            gapwright__subcmd__help,trend)
                cmd="gapwright__subcmd__help__subcmd__trend"
                ;;
            *)
                ;;
        esac
    done

    case "${cmd}" in
        gapwright)
            opts="-h -V --help --version decide trend study heat reading pack parts plan due torque sheet check import export sample help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 1 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__check)
            opts="-h --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__decide)
            opts="-h --shear --at --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --shear)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --at)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__due)
            opts="-h --yard --shear --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --yard)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --shear)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__export)
            opts="-h --csv --parquet --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --csv)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --parquet)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__heat)
            opts="-h --shear --line --cold-gap-mm --cuts-per-minute --air-c --hours --plate-mm --working-share --break-h --start-c --csv --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --shear)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --line)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --cold-gap-mm)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --cuts-per-minute)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --air-c)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --hours)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --plate-mm)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --working-share)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --break-h)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --start-c)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help)
            opts="decide trend study heat reading pack parts plan due torque sheet check import export sample help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__check)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__decide)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__due)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__export)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__heat)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__help)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__import)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__pack)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__parts)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__plan)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__reading)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__sample)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__sheet)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__study)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__torque)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__help__subcmd__trend)
            opts=""
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 3 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__import)
            opts="-h --yard --work --marks --create --dry-run --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --yard)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --work)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --marks)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__pack)
            opts="-h --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__parts)
            opts="-h --within-h --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --within-h)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__plan)
            opts="-h --shear --horizon-h --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --shear)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --horizon-h)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__reading)
            opts="-h --go --no-go --leaf-tol-mm --sigma-mm --sigma-dof --min --max --conformity --rule --set --yard --shear --station --blade-c --jaw-c --air-c --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --go)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --no-go)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --leaf-tol-mm)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --sigma-mm)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --sigma-dof)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --min)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --max)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --conformity)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --rule)
                    COMPREPLY=($(compgen -W "guarded simple" -- "${cur}"))
                    return 0
                    ;;
                --set)
                    COMPREPLY=($(compgen -W "metric-10 metric-20 metric-26 inch-10 inch-20" -- "${cur}"))
                    return 0
                    ;;
                --yard)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --shear)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --station)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --blade-c)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --jaw-c)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --air-c)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__sample)
            opts="-h --shears --sessions --seed --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --shears)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --sessions)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --seed)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__sheet)
            opts="-h --shear --out --paper --language --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --shear)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --out)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --paper)
                    COMPREPLY=($(compgen -W "a4 letter" -- "${cur}"))
                    return 0
                    ;;
                --language)
                    COMPREPLY=($(compgen -W "en de" -- "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__study)
            opts="-h --use --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --use)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__torque)
            opts="-h --size --grade --thread-friction --head-friction --nut-factor --yield-share --proof-share --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --size)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --grade)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --thread-friction)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --head-friction)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --nut-factor)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --yield-share)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --proof-share)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
        gapwright__subcmd__trend)
            opts="-h --shear --station --limit-mm --confidence --per --with-reading-u --bootstrap --compare --marks --json --help"
            if [[ ${cur} == -* || ${COMP_CWORD} -eq 2 ]] ; then
                COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
                return 0
            fi
            case "${prev}" in
                --shear)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --station)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --limit-mm)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --confidence)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                --per)
                    COMPREPLY=($(compgen -W "hours tonnes cuts" -- "${cur}"))
                    return 0
                    ;;
                --bootstrap)
                    COMPREPLY=($(compgen -f "${cur}"))
                    return 0
                    ;;
                *)
                    COMPREPLY=()
                    ;;
            esac
            COMPREPLY=( $(compgen -W "${opts}" -- "${cur}") )
            return 0
            ;;
    esac
}

if [[ "${BASH_VERSINFO[0]}" -eq 4 && "${BASH_VERSINFO[1]}" -ge 4 || "${BASH_VERSINFO[0]}" -gt 4 ]]; then
    complete -F _gapwright -o nosort -o bashdefault -o default gapwright
else
    complete -F _gapwright -o bashdefault -o default gapwright
fi
