export { ChangePowerUnitForm, NewPowerUnitForm } from './components/late-forms';
