-- A run of a trial that cannot be judged is given up with a reason, so that its trial can end.

ALTER TABLE trial_run ADD COLUMN given_up TEXT;
