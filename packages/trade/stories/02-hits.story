Story: A hit is baited in the top slot and the base monitor stays
Rule: finding; bait-with-termites; auxiliary-stations; next-interval; tell-customer
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor; monitor eaten
Then do: sweep and open; insert bait without pulling the base monitor; ask for auxiliary stations; close and lock the cap
Then parts: bait-insert 1
Then grams: 120
Then auxiliary stations: 2
Then tell: termites found; bait put in; auxiliary stations
Then caution: leave the base monitor; locate buried utilities
Then next: baited check

Story: A hit in a one-part station is baited from the cup
Rule: bait-with-termites
Station: one-part
Profile: auxiliary stations 0
2025-03-01 installed
2025-05-20 check: termites live on monitor
Then do: sweep and open; insert bait without pulling the base monitor; close and lock the cap
Then parts: bait-cup 1
Then auxiliary stations: 0

Story: A yearly service is carried over where termites are on the monitor
Rule: yearly-service; monitor
Station: two-part
Profile: auxiliary stations 0
2025-03-01 installed
2026-03-20 yearly service: termites live on monitor; monitor rotten
Then do: sweep and open; insert bait without pulling the base monitor; close and lock the cap
Then carried over: yes
Then service done: no
Then tell: termites found; service carried over; bait put in

Story: A known hit does not ask for auxiliary stations again
Rule: auxiliary-stations
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-01 check: termites live on monitor; bait full
Then do: sweep and open; estimate bait left; close and lock the cap
Then auxiliary stations: 0
Then because: auxiliary-stations, asked before

Story: A station set beside a hit asks for no more beside itself
Rule: auxiliary-stations
Station: two-part
2025-03-01 installed beside a hit
2025-05-20 check: termites live on monitor
Then auxiliary stations: 0
Then because: auxiliary-stations, auxiliary itself

Story: Termites on the monitor beside bait that is nearly gone
Rule: bait-with-termites
Station: one-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-01 check: termites live on monitor; bait gone
Then do: sweep and open; estimate bait left; add bait without pulling the base monitor; close and lock the cap
Then parts: bait-cup 1

Story: Signs without live termites are recorded and the monitor is renewed
Rule: finding; monitor
Station: two-part
2025-03-01 installed
2025-05-20 check: termites signs only
Then do: sweep and open; record signs; lift the top monitor; lift the base monitor, every piece of it; fit a new base monitor; fit a new top monitor; close and lock the cap
Then parts: base-monitor 1; top-monitor 1
Then tell: signs only; monitor renewed
Then next: check

Story: Signs without live termites, where the label keeps the monitor
Rule: monitor
Station: two-part
Profile: monitor with signs kept
2025-03-01 installed
2025-05-20 check: termites signs only
Then do: sweep and open; record signs; put the monitor back; close and lock the cap
Then parts: none
