-- Whether a relief valve of the clamp line sits between what shuts the clamps off and the clamps: oil that is shut in reaches it only there.
-- It is null until somebody says.
ALTER TABLE "installed_components" ADD COLUMN "is_beyond_shut_off" BOOLEAN;
