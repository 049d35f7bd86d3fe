Story: A yearly service carried over is done once feeding has ended
Rule: yearly-service; bait-aside; bait-without-termites
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2026-04-10 yearly service: termites live on bait; bait half
2026-06-01 check: bait half
2026-06-20 yearly service: bait half; monitor eaten
Then do: sweep and open; estimate bait left; lift the bait and set it aside; lift the base monitor, every piece of it; clear debris from the housing; fit a new base monitor; put the bait back; close and lock the cap
Then parts: base-monitor 1
Then service done: yes
Then carried over: no
Then tell: no termites; service done
Then next: baited check

Story: A yearly service carried over is done at the very look that finds feeding ended
Rule: yearly-service; disturb
Station: one-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2026-04-10 yearly service: termites live on bait; bait half
2026-06-01 yearly service: bait a quarter; monitor eaten
Then do: sweep and open; estimate bait left; lift the bait and set it aside; lift the base monitor, every piece of it; clear debris from the housing; fit a new base monitor; put the bait back; close and lock the cap
Then service done: yes
Then tell: feeding ended; service done

Story: A check that finds feeding ended says that the service is owed and does not do it
Rule: yearly-service; tell-customer
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2026-04-10 yearly service: termites live on bait; bait half
2026-06-01 check: bait half
Then do: sweep and open; estimate bait left; tell the office; close and lock the cap
Then service done: no
Then carried over: no
Then tell: feeding ended; service owed
Then because: yearly-service, say that it is owed

Story: A check while termites still feed leaves the carried-over service waiting
Rule: yearly-service
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2026-04-10 yearly service: termites live on bait; bait half
2026-06-01 check: termites live on bait; bait half
Then do: sweep and open; look only; estimate bait left; close and lock the cap
Then because: yearly-service, still waiting

Story: The third look without termites makes the station clear and the bait is withdrawn
Rule: bait-without-termites; tell-customer; next-interval
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-01 check: termites live on bait; bait half
2025-08-15 check: bait half
2025-10-01 check: bait half
2025-11-15 check: bait half
Then do: sweep and open; estimate bait left; withdraw bait; fit a new top monitor; close and lock the cap
Then parts: top-monitor 1
Then tell: no termites; station clear; bait withdrawn
Then next: check

Story: Bait stays in a clear station where the label says so
Rule: bait-without-termites; next-interval
Station: two-part
Profile: clear bait stays
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-08-15 check: bait full
2025-10-01 check: bait full
2025-11-15 check: bait full
Then do: sweep and open; estimate bait left; close and lock the cap
Then next: baited check

Story: Idle bait is withdrawn where the label says so, and the hit is watched until it is clear
Rule: bait-without-termites; next-interval
Station: one-part
Profile: idle bait withdrawn
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-08-15 check: bait full
Then do: sweep and open; estimate bait left; withdraw bait; put the monitor back; close and lock the cap
Then parts: none
Then next: baited check
Then because: next-interval, hit not clear

Story: Idle bait is renewed where the label says so
Rule: bait-without-termites
Station: two-part
Profile: idle bait renewed
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-08-15 check: bait three quarters
Then do: sweep and open; estimate bait left; renew bait; close and lock the cap
Then grams: 120
Then tell: no termites; bait renewed

Story: Termites that come back to a clear station are a new hit
Rule: auxiliary-stations
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-08-15 check: bait full
2025-10-01 check: bait full
2025-11-15 check: bait full
2026-02-01 check: termites live on monitor
Then do: sweep and open; insert bait without pulling the base monitor; ask for auxiliary stations; close and lock the cap
Then auxiliary stations: 2

Story: A hit is not forgotten when its housing breaks
Rule: dig-out; bait-aside; next-interval
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-08-15 check: bait half; housing broken
Then do: sweep and open; estimate bait left; lift the bait and set it aside; dig out and set a new housing; fit a new base monitor; put the bait back; close and lock the cap
Then parts: base-monitor 1; housing-two-part 1
Then new housing: yes
Then next: baited check
Then due on 2025-08-15: baited check 2025-09-12 to 2025-09-29 to 2025-10-14, not yet; yearly service 2026-03-01 to 2026-04-01 to 2026-06-01, not yet

Story: Bait that the ledger says is there and nobody found
Rule: bait-in-the-ledger; bait-without-termites
Station: one-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-08-15 check: bait none
Then do: sweep and open; estimate bait left; put the monitor back; renew bait; tell the office; close and lock the cap
Then because: bait-in-the-ledger, missing; bait-without-termites, idle, gone
Then next: baited check

Story: Bait that nobody recorded
Rule: bait-in-the-ledger
Station: one-part
2025-03-01 installed
2025-08-15 check: bait half
Then do: sweep and open; estimate bait left; put the monitor back; tell the office; close and lock the cap
Then because: bait-in-the-ledger, not recorded
