# Windows are written "earliest to target to latest". The invented demo profile counts: first check 60, 75, 90 days;
# check 2, 3, 4 months; baited check 28, 45, 60 days; yearly service 12, 13, 15 months; carried-over service 0, 30, 90 days
# after feeding ended; missed station 0, 14, 30 days.

Story: A new station owes its first check and its first yearly service
Rule: next-look; yearly-owed
Station: two-part
2025-03-01 installed
Then due on 2025-03-01: first check 2025-04-30 to 2025-05-15 to 2025-05-30, not yet; yearly service 2026-03-01 to 2026-04-01 to 2026-06-01, not yet

Story: Before it was installed a station owes nothing
Rule: next-look; yearly-owed
Station: two-part
2025-03-01 installed
Then due on 2025-02-28: none

Story: A check counts from the check before it, the yearly service does not move
Rule: next-look; yearly-owed
Station: two-part
2025-03-01 installed
2025-05-20 check:
Then due on 2025-08-21: check 2025-07-20 to 2025-08-20 to 2025-09-20, past target; yearly service 2026-03-01 to 2026-04-01 to 2026-06-01, not yet

Story: Months that are too short end on their last day
Rule: next-look; yearly-owed
Station: two-part
2024-11-30 installed
2024-12-31 yearly service:
Then due on 2025-02-28: check 2025-02-28 to 2025-03-31 to 2025-04-30, open; yearly service 2025-12-31 to 2026-01-31 to 2026-03-31, not yet

Story: A yearly service done on a leap day
Rule: next-look; yearly-owed
Station: two-part
2023-02-01 installed
2024-02-29 yearly service:
Then due on 2025-05-30: check 2024-04-29 to 2024-05-29 to 2024-06-29, late; yearly service 2025-02-28 to 2025-03-29 to 2025-05-29, late

Story: A hit shortens the interval
Rule: next-look; yearly-owed
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
Then due on 2025-05-20: baited check 2025-06-17 to 2025-07-04 to 2025-07-19, not yet; yearly service 2026-03-01 to 2026-04-01 to 2026-06-01, not yet

Story: A yearly service carried over is held while termites feed
Rule: yearly-owed; yearly-service
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2026-04-10 yearly service: termites live on bait; bait half
Then due on 2026-07-01: baited check 2026-05-08 to 2026-05-25 to 2026-06-09, late; held yearly service, feeding since 2026-04-10

Story: A yearly service carried over is due from the day that feeding ended
Rule: yearly-owed; yearly-service
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2026-04-10 yearly service: termites live on bait; bait half
2026-06-01 check: bait half
Then due on 2026-06-02: baited check 2026-06-29 to 2026-07-16 to 2026-07-31, not yet; carried-over service 2026-06-01 to 2026-07-01 to 2026-08-30, open

Story: The carried-over service once done starts the year again
Rule: yearly-owed; yearly-service
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2026-04-10 yearly service: termites live on bait; bait half
2026-06-01 check: bait half
2026-06-20 yearly service: bait half
Then due on 2026-06-20: baited check 2026-07-18 to 2026-08-04 to 2026-08-19, not yet; yearly service 2027-06-20 to 2027-07-20 to 2027-09-20, not yet

Story: A missed station is owed from the first miss
Rule: next-look; reach
Station: two-part
2025-03-01 installed
2025-05-20 check:
2025-08-20 check: not found (new lawn)
2025-09-01 check: not found (new lawn)
Then due on 2025-09-20: missed station 2025-08-20 to 2025-09-03 to 2025-09-19, late; yearly service 2026-03-01 to 2026-04-01 to 2026-06-01, not yet

Story: A clear station goes back to the usual interval, and its structure is clear
Rule: next-look; yearly-owed
Station: two-part
2025-03-01 installed
2025-05-20 check: termites live on monitor
2025-08-15 check: bait full
2025-10-01 check: bait full
2025-11-15 check: bait full
Then due on 2025-11-15: check 2026-01-15 to 2026-02-15 to 2026-03-15, not yet; yearly service 2026-03-01 to 2026-04-01 to 2026-06-01, not yet; structure clear since 2025-11-15
