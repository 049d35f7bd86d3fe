# Feeding: leave it alone. Numbers are those of the invented demo profile:
# add bait at a quarter or less, 120 g an insert, clear after 3 looks, one auxiliary station on each side.

Story: A yearly service is carried over where termites feed on bait
Rule: disturb; yearly-service; bait-with-termites; clean-out; monitor
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor; monitor eaten
2025-07-10 check: termites live on bait; bait half; monitor eaten
2026-04-10 yearly service: termites live on bait; bait half; monitor eaten
Then do: sweep and open; look only; estimate bait left; close and lock the cap
Then never: lift the base monitor, every piece of it; clear debris from the housing; lift the top monitor
Then carried over: yes
Then service done: no
Then parts: none
Then grams: 0
Then tell: feeding; service carried over
Then caution: leave feeding alone; no spray at termites
Then next: baited check

Story: Bait is added when a quarter is left, without pulling the base monitor
Rule: bait-with-termites
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-10 check: termites live on bait; bait a quarter; monitor eaten
Then do: sweep and open; look only; estimate bait left; add bait without pulling the base monitor; close and lock the cap
Then parts: bait-insert 1
Then grams: 120
Then tell: feeding; bait added
Then caution: handle bait by the label; bait out of reach

Story: Half the bait is enough where the label says a quarter
Rule: bait-with-termites
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-10 check: termites live on bait; bait half
Then do: sweep and open; look only; estimate bait left; close and lock the cap
Then because: bait-with-termites, feeding, enough left

Story: Half the bait is too little where the label says a half
Rule: bait-with-termites
Station: two-part
Profile: add bait at or under 0.5
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-10 check: termites live on bait; bait half
Then do: sweep and open; look only; estimate bait left; add bait without pulling the base monitor; close and lock the cap

Story: Termites on bait in a station that should hold none are left alone all the same
Rule: finding; disturb; bait-in-the-ledger
Station: two-part
2025-03-01 installed
2026-04-02 yearly service: termites live on bait; bait none; monitor swollen; housing broken
Then do: sweep and open; look only; estimate bait left; add bait without pulling the base monitor; mark the housing for replacement when feeding has ended; ask for auxiliary stations; tell the office; close and lock the cap
Then never: dig out and set a new housing; lift the base monitor, every piece of it
Then carried over: yes
Then new housing: no

Story: Live termites on a monitor that the model does not have count as feeding
Rule: finding
Station: always-baited
2025-03-01 installed
2025-06-01 check: termites live on monitor; bait three quarters
Then do: sweep and open; look only; estimate bait left; ask for auxiliary stations; close and lock the cap
Then because: finding, live in a station without monitors
Then next: baited check

Story: A damaged cap is changed also while termites feed
Rule: housing
Station: one-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-10 check: termites live on bait; bait full; housing cap damaged
Then do: sweep and open; look only; estimate bait left; fit a new cap; close and lock the cap
Then parts: cap-one-part 1
Then tell: feeding; station repaired

Story: Water in a station in which termites feed is left
Rule: housing
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-10 check: termites live on bait; bait full; housing flooded
Then do: sweep and open; look only; estimate bait left; leave the housing as it is until the termites have gone; close and lock the cap
Then never: bail out water
Then tell: feeding; repair later

Story: A broken housing with termites is marked and waits
Rule: dig-out
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-10 check: termites live on bait; bait full; housing broken
Then do: sweep and open; look only; estimate bait left; mark the housing for replacement when feeding has ended; close and lock the cap
Then new housing: no

Story: Stinging insects do not undo the rule that feeding is left alone
Rule: occupants
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-10 yearly service: termites live on bait; bait full; occupants stinging insects
Then do: sweep and open; let occupants settle and move nothing; look only; estimate bait left; close and lock the cap
Then carried over: yes
Then caution: leave feeding alone; stinging insects; no spray at termites

Story: Ants beside feeding termites are neither sprayed nor moved
Rule: occupants
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-07-10 check: termites live on bait; bait full; occupants ants
Then do: sweep and open; let occupants settle and move nothing; look only; estimate bait left; close and lock the cap
Then caution: ants; no spray at termites
