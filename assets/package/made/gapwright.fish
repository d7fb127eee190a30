# Print an optspec for argparse to handle cmd's options that are independent of any subcommand.
function __fish_gapwright_global_optspecs
    string join \n h/help V/version
end

function __fish_gapwright_needs_command
    # Figure out if the current invocation already has a command.
    set -l cmd (commandline -opc)
    set -e cmd[1]
    argparse -s (__fish_gapwright_global_optspecs) -- $cmd 2>/dev/null
    or return
    if set -q argv[1]
        # Also print the command, so this can be used to figure out what it is.
        echo $argv[1]
        return 1
    end
    return 0
end

function __fish_gapwright_using_subcommand
    set -l cmd (__fish_gapwright_needs_command)
    test -z "$cmd"
    and return 1
    contains -- $cmd[1] $argv
end

complete -c gapwright -n "__fish_gapwright_needs_command" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_needs_command" -s V -l version -d 'Print version'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "decide" -d 'What to do with each line of each machine, and why'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "trend" -d 'How fast the gaps of a machine grow, and hours to each limit'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "study" -d 'How much of what is measured is the measuring itself: a gauge study'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "heat" -d 'How hot the faces get in a shift, which colours that gives, and what it does to the gaps'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "reading" -d 'One reading by itself: its uncertainty, its verdict, the leaf to try next'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "pack" -d 'One shim problem from a file: the best packs from one shelf, or why there are none'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "parts" -d 'Spare parts: what is left, what will be needed, what to order'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "plan" -d 'What to do now, at the next planned shutdown, and what to order, with what waiting costs'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "due" -d 'What service asks for: looks, grease, bolts, fresh edges, frost, welds, calibration'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "torque" -d 'How hard a bolt is tightened: clamp force, torque, share of the proof load'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "sheet" -d 'The job sheet of a machine on paper: what to do, why, gaps before and after, bolts to tick'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "check" -d 'Reads every file of a yard and names what is wrong with each'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "import" -d 'Takes visits out of tables: readings, and work if a second table is named'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "export" -d 'Writes a yard as tables for other programs'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "sample" -d 'Writes an invented yard'
complete -c gapwright -n "__fish_gapwright_needs_command" -a "help" -d 'Print this message or the help of the given subcommand(s)'
complete -c gapwright -n "__fish_gapwright_using_subcommand decide" -l shear -d 'Only this machine, by its folder name' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand decide" -l at -d 'As of this time (RFC 3339); later sessions are left out' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand decide" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand decide" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l shear -d 'The machine, by its folder name' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l station -d 'Only this station, such as P1' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l limit-mm -d 'A limit of your own, in mm' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l confidence -d 'How sure the interval is, between 0 and 1' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l per -d 'What growth is counted against, where visits read the counter; then keys that end in _h end in _t or _cuts' -r -f -a "hours\t'Service hours'
tonnes\t'Tonnes cut'
cuts\t'Cuts made'"
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l bootstrap -d 'Check the hours by drawing the readings again, so many times' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l with-reading-u -d 'Count the readings\' own uncertainty (leaves, temperatures) as scatter as well'
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l compare -d 'Do the stations of a line, the lines, the machines, and before and after work grow alike?'
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l marks -d 'Wear marks in place of gaps: edge radius, blade thickness, template wear'
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand trend" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c gapwright -n "__fish_gapwright_using_subcommand study" -l use -d 'Count with this scatter for every reading in this yard from now on' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand study" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand study" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l shear -d 'The machine, by its folder name' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l line -d 'Only this line, alone between its two parts and the jaws: a case to check by hand' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l cold-gap-mm -d 'The cold gap at every station, in mm at 20 °C, instead of what was measured' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l cuts-per-minute -d 'Cuts a minute' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l air-c -d 'The air\'s temperature, in °C; the machine starts as warm' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l hours -d 'Length of the shift, in hours' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l plate-mm -d 'Thickness of the plate, in mm' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l working-share -d 'Share of the time it cuts, 0 to 1' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l break-h -d 'A break, as hours from and to, such as 4-4.5; may be given more than once' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l start-c -d 'The machine\'s temperature when the shift begins, in °C, if it is not as warm as the air' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l csv -d 'Every station at every tenth of an hour, as CSV'
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand heat" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l go -d 'The thickest stack that goes, in mm: 0.55, or by its leaves: 0.50+0.05. Left out: none did' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l no-go -d 'The thinnest stack that does not go, in mm. Left out: all went' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l leaf-tol-mm -d 'Half-width of what each leaf\'s maker allows, in mm; a stack counts once for each leaf' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l sigma-mm -d 'Standard deviation of the hand, from a gauge study, in mm' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l sigma-dof -d 'Degrees of freedom behind that deviation' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l min -d 'The smallest gap allowed, in mm' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l max -d 'The largest gap allowed, in mm' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l conformity -d 'The probability from which a side counts as proven' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l rule -d 'Which readings count as inside' -r -f -a "guarded\t'What is proven, by ISO 14253-1'
simple\t'What the middle of the reading says'"
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l set -d 'The leaves at hand, for the one to try next' -r -f -a "metric-10\t''
metric-20\t''
metric-26\t''
inch-10\t''
inch-20\t''"
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l yard -d 'A yard\'s folder: limits, leaves, hand, steel and rule are those of a station in it' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l shear -d 'The machine in that yard, by its folder name' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l station -d 'The station on that machine, such as P1' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l blade-c -d 'The blades\' temperature in °C. Left out: 20, and said' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l jaw-c -d 'The jaws\' temperature in °C. Left out: halfway between air and blades, and said' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l air-c -d 'The air\'s temperature in °C' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand reading" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c gapwright -n "__fish_gapwright_using_subcommand pack" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand pack" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand parts" -l within-h -d 'Service hours of each machine to look ahead' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand parts" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand parts" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand plan" -l shear -d 'Only this machine, by its folder name' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand plan" -l horizon-h -d 'Service hours to plan over; without it, over two planned shutdowns' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand plan" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand plan" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand due" -l yard -d 'The yard\'s folder, if it is not named first' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand due" -l shear -d 'Only this machine, by its folder name' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand due" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand due" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -l size -d 'Thread as stamped: M24, M24x2, or 1-1/4-7 for an inch bolt' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -l grade -d 'Strength class: 8.8, 10.9, 12.9, or 8 for an inch bolt' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -l thread-friction -d 'Friction in the thread; 0.12 for a lightly oiled bolt' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -l head-friction -d 'Friction under the head; as in the thread if left out' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -l nut-factor -d 'Nut factor K, as inch tables use it, instead of friction' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -l yield-share -d 'Share of the yield strength to use' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -l proof-share -d 'Share of the proof load to clamp with, instead of a share of yield' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -l json -d 'JSON with full precision'
complete -c gapwright -n "__fish_gapwright_using_subcommand torque" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand sheet" -l shear -d 'The machine, by its folder name' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand sheet" -l out -d 'The file to write' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand sheet" -l paper -d 'What it is printed on' -r -f -a "a4\t''
letter\t''"
complete -c gapwright -n "__fish_gapwright_using_subcommand sheet" -l language -d 'What it speaks' -r -f -a "en\t'English'
de\t'German'"
complete -c gapwright -n "__fish_gapwright_using_subcommand sheet" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c gapwright -n "__fish_gapwright_using_subcommand check" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand import" -l yard -d 'The yard\'s folder, if it is not named first' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand import" -l work -d 'A table of work' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand import" -l marks -d 'A table of wear marks' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand import" -l create -d 'Make machines, stations and the yard if they are not there yet, with wide-open demonstration limits'
complete -c gapwright -n "__fish_gapwright_using_subcommand import" -l dry-run -d 'Only say what would change'
complete -c gapwright -n "__fish_gapwright_using_subcommand import" -s h -l help -d 'Print help (see more with \'--help\')'
complete -c gapwright -n "__fish_gapwright_using_subcommand export" -l csv -d 'A folder for readings.csv, work.csv, marks.csv and findings.csv; or a file that ends in .csv for the readings, with the others beside it in files that end in -work.csv and so on' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand export" -l parquet -d 'A folder of Parquet files for many yards, by machine and year. Only visits that are not in it yet are added' -r -F
complete -c gapwright -n "__fish_gapwright_using_subcommand export" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand sample" -l shears -d 'How many machines' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand sample" -l sessions -d 'How many sessions for each machine' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand sample" -l seed -d 'The same seed makes the same yard' -r
complete -c gapwright -n "__fish_gapwright_using_subcommand sample" -s h -l help -d 'Print help'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "decide" -d 'What to do with each line of each machine, and why'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "trend" -d 'How fast the gaps of a machine grow, and hours to each limit'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "study" -d 'How much of what is measured is the measuring itself: a gauge study'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "heat" -d 'How hot the faces get in a shift, which colours that gives, and what it does to the gaps'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "reading" -d 'One reading by itself: its uncertainty, its verdict, the leaf to try next'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "pack" -d 'One shim problem from a file: the best packs from one shelf, or why there are none'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "parts" -d 'Spare parts: what is left, what will be needed, what to order'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "plan" -d 'What to do now, at the next planned shutdown, and what to order, with what waiting costs'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "due" -d 'What service asks for: looks, grease, bolts, fresh edges, frost, welds, calibration'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "torque" -d 'How hard a bolt is tightened: clamp force, torque, share of the proof load'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "sheet" -d 'The job sheet of a machine on paper: what to do, why, gaps before and after, bolts to tick'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "check" -d 'Reads every file of a yard and names what is wrong with each'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "import" -d 'Takes visits out of tables: readings, and work if a second table is named'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "export" -d 'Writes a yard as tables for other programs'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "sample" -d 'Writes an invented yard'
complete -c gapwright -n "__fish_gapwright_using_subcommand help; and not __fish_seen_subcommand_from decide trend study heat reading pack parts plan due torque sheet check import export sample help" -f -a "help" -d 'Print this message or the help of the given subcommand(s)'
