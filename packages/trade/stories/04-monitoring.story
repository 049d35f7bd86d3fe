Story: A check that finds nothing puts the monitor back
Rule: reach; monitor; clean-out
Station: two-part
2025-03-01 installed
2025-05-20 check:
Then do: sweep and open; put the monitor back; close and lock the cap
Then parts: none
Then tell: no termites
Then next: check

Story: A check renews a rotten monitor
Rule: monitor
Station: two-part
2025-03-01 installed
2025-05-20 check: monitor rotten
Then do: sweep and open; lift the top monitor; lift the base monitor, every piece of it; fit a new base monitor; fit a new top monitor; close and lock the cap
Then parts: base-monitor 1; top-monitor 1
Then service done: no
Then tell: no termites; monitor renewed

Story: The yearly service of a two-part station
Rule: yearly-service; clean-out; monitor
Station: two-part
2025-03-01 installed
2026-04-01 yearly service:
Then do: sweep and open; lift the top monitor; lift the base monitor, every piece of it; clear debris from the housing; fit a new base monitor; fit a new top monitor; close and lock the cap
Then parts: base-monitor 1; top-monitor 1
Then service done: yes
Then caution: clean-out tool
Then tell: no termites; service done

Story: The yearly service of a one-part station
Rule: yearly-service; monitor
Station: one-part
2025-03-01 installed
2026-04-01 yearly service:
Then do: sweep and open; lift the base monitor, every piece of it; clear debris from the housing; fit a new base monitor; close and lock the cap
Then parts: single-monitor 1

Story: The yearly service of an always-baited station keeps bait that is enough
Rule: yearly-service; bait-aside; clean-out
Station: always-baited
2025-03-01 installed
2026-04-01 yearly service: bait three quarters
Then do: sweep and open; estimate bait left; lift the bait and set it aside; clear debris from the housing; put the bait back; close and lock the cap
Then parts: none
Then service done: yes

Story: An always-baited station with little bait gets new bait
Rule: bait-without-termites
Station: always-baited
2025-03-01 installed
2025-06-01 check: bait a quarter
Then do: sweep and open; estimate bait left; renew bait; close and lock the cap
Then parts: bait-insert 1
Then next: baited check

Story: A swollen monitor that will not lift is dug out at the yearly service
Rule: dig-out; housing
Station: two-part
2025-03-01 installed
2026-04-01 yearly service: monitor swollen
Then do: sweep and open; lift the top monitor; dig out and set a new housing; fit a new base monitor; fit a new top monitor; close and lock the cap
Then parts: housing-two-part 1; base-monitor 1; top-monitor 1
Then new housing: yes
Then service done: yes
Then caution: locate buried utilities

Story: A swollen monitor at a check is not forced
Rule: dig-out; monitor
Station: two-part
2025-03-01 installed
2025-06-01 check: monitor swollen
Then do: sweep and open; close and lock the cap
Then new housing: no

Story: A broken housing without termites is dug out at a check
Rule: dig-out
Station: one-part
2025-03-01 installed
2025-06-01 check: housing broken
Then do: sweep and open; dig out and set a new housing; fit a new base monitor; close and lock the cap
Then parts: housing-one-part 1; single-monitor 1
Then new housing: yes

Story: Water is bailed out, soil cleared, a loose housing firmed
Rule: housing
Station: two-part
2025-03-01 installed
2025-06-01 check: housing loose
2025-09-01 check: housing filled with soil
2025-12-01 check: housing flooded
Then do: sweep and open; bail out water; put the monitor back; close and lock the cap

Story: Stinging insects under the cap come first
Rule: occupants
Station: two-part
2025-03-01 installed
2026-04-01 yearly service: occupants stinging insects
Then do: sweep and open; let occupants settle or move them; lift the top monitor; lift the base monitor, every piece of it; clear debris from the housing; fit a new base monitor; fit a new top monitor; close and lock the cap
Then caution: stinging insects

Story: A car on the station
Rule: reach; next-interval; tell-customer
Station: two-part
2025-03-01 installed
2025-06-01 check: blocked (a car stood on it)
Then do: record why and take a photo; tell the office; 
Then parts: none
Then service done: no
Then tell: could not open
Then next: missed station

Story: The third miss in a row asks for a replacement
Rule: reach; next-interval
Station: two-part
2025-03-01 installed
2025-06-01 check: not found (new lawn)
2025-06-15 check: not found (new lawn)
2025-06-29 check: not found (new lawn)
Then do: record why and take a photo; ask for a replacement; tell the office
Then tell: could not open; replacement asked
Then next: replacement

Story: Opening a station ends the run of misses
Rule: reach
Station: two-part
2025-03-01 installed
2025-06-01 check: not found (tall grass)
2025-06-15 check: not found (tall grass)
2025-06-29 check:
2025-10-01 check: not found (tall grass)
Then next: missed station
